"""The standing checks of place, weather, law, fuel and fire, and the emergency plan."""

from __future__ import annotations

from core.checks.rules import COMMON, Rule, Span

__all__ = ["PLACE_RULES"]

_PLACE = "Place"
_WEATHER = "Weather"
_LAW = "Law"
_FIRE = "Fuel and fire"
_PLAN = "Emergency plan"

_GROUND_RULES: tuple[Rule, ...] = (
    Rule(
        id="permission",
        short="permission named and valid",
        level="run",
        group=_PLACE,
        question="Who allows running here, and until when.",
        because="The land is somebody's.",
        otherwise="Nobody may start.",
        answer="text",
    ),
    Rule(
        id="strip_walked",
        short="strip walked today",
        level="run",
        group=_PLACE,
        question="Whole strip and run-out walked today.",
        because="Yesterday's strip had no branch on it.",
        otherwise="It is found at speed.",
    ),
    Rule(
        id="run_out",
        short="run-out beyond the last mark",
        level="run",
        group=_PLACE,
        question="Free run-out beyond the last timing mark: at least twice the stopping distance.",
        because="One small rear brake slows by about 3 m/s², after a second of reaction.",
        otherwise="The strip ends before the machine does.",
        answer="value",
        unit="m",
        hard=Span(0.0, 3000.0),
        source=COMMON,
    ),
    Rule(
        id="no_crossing",
        short="no traffic, path, animal or child",
        level="run",
        group=_PLACE,
        question="No crossing traffic, path, animal or child can come onto strip or run-out.",
        because="Nobody expects a minibike.",
        otherwise="Nobody can stop in time.",
    ),
    Rule(
        id="spectators",
        short="spectators behind a barrier",
        level="run",
        group=_PLACE,
        question="Spectators behind a barrier, never in line with the strip's end or in the plane "
        "of flywheel or chain.",
        because="That is where machines and parts go.",
        otherwise="Somebody who only watched is hurt.",
    ),
    Rule(
        id="cones",
        short="cones",
        level="advice",
        group=_PLACE,
        question="Marks and braking point coned.",
        because="Tape cannot be seen from the seat.",
        otherwise="A late brake, a wrong mark.",
    ),
    Rule(
        id="marshal",
        short="second marshal",
        level="advice",
        group=_PLACE,
        question="Second marshal at the far end.",
        because="The start cannot see the end.",
        otherwise="Somebody walks on unseen.",
    ),
    Rule(
        id="swept",
        short="grit swept",
        level="advice",
        group=_PLACE,
        question="Grit swept from launch and braking zone.",
        because="Small tyres find every stone.",
        otherwise="Spin at the start, slide at the end.",
    ),
    Rule(
        id="damp_marked",
        short="damp patches marked",
        level="advice",
        group=_PLACE,
        question="Damp patches marked.",
        because="They are in the shade, where the brakes go on.",
        otherwise="A slide.",
    ),
)

_WEATHER_RULES: tuple[Rule, ...] = (
    Rule(
        id="no_lightning",
        short="no lightning",
        level="run",
        group=_WEATHER,
        question="No lightning seen or heard.",
        because="An open strip has nothing higher than you.",
        otherwise="Wait it out under a roof.",
    ),
    Rule(
        id="surface_dry",
        short="surface dry, or built for wet",
        level="run",
        group=_WEATHER,
        question="Surface neither wet nor icy, unless the machine is built for it.",
        because="Slick tyres and one brake need it dry.",
        otherwise="Twice the stopping distance is not enough.",
    ),
    Rule(
        id="visibility",
        short="visibility beyond the run-out",
        level="run",
        group=_WEATHER,
        question="The end of the run-out can be seen from the start.",
        because="What cannot be seen cannot be stopped for.",
        otherwise="Somebody stands there.",
    ),
    Rule(
        id="wind_note",
        short="wind below 3 m/s, gusts below 5",
        level="advice",
        group=_WEATHER,
        question="Mean wind not above 3 m/s and gusts not above 5 m/s.",
        because="More wind moves the times more than most parts do.",
        otherwise="The day is good for practice, not for comparing.",
        source=COMMON,
    ),
    Rule(
        id="heat_breaks",
        short="breaks in heat",
        level="advice",
        group=_WEATHER,
        question="Above 32 °C: rider breaks planned.",
        because="A helmet and cloth in the heat wear a rider out.",
        otherwise="Judgement goes first.",
        source=COMMON,
    ),
    Rule(
        id="dusk",
        short="light enough",
        level="advice",
        group=_WEATHER,
        question="Light will last until the machine is loaded.",
        because="Dusk is when one more run is asked for.",
        otherwise="Marks and people are seen late.",
    ),
)

_LAW_RULES: tuple[Rule, ...] = (
    Rule(
        id="lawful",
        short="may lawfully be run here",
        level="run",
        group=_LAW,
        question="You confirm that this machine may lawfully be run here; public roads, paths and "
        "car parks normally not.",
        because="Local law decides, not this tool.",
        otherwise="Nobody may start.",
    ),
    Rule(
        id="noise_hours",
        short="noise hours",
        level="advice",
        group=_LAW,
        question="Noise hours of the place are kept.",
        because="Neighbours decide whether there is a next time.",
        otherwise="The place is lost.",
    ),
    Rule(
        id="insurance",
        short="insurance",
        level="advice",
        group=_LAW,
        question="Insurance covers this use.",
        because="Most policies leave testing out.",
        otherwise="You pay.",
    ),
    Rule(
        id="spark_ban",
        short="spark arrestor, fire ban",
        level="advice",
        group=_LAW,
        question="Spark arrestor where one is asked for; no fire ban today.",
        because="Dry grass needs one spark.",
        otherwise="A field fire.",
    ),
    Rule(
        id="local_rules",
        short="emission and age rules",
        level="advice",
        group=_LAW,
        question="Local emission and age rules looked up.",
        because="They differ from place to place.",
        otherwise="A fine.",
    ),
)

_FIRE_RULES: tuple[Rule, ...] = (
    Rule(
        id="refuelling",
        short="refuelling: cool, away, closed can",
        level="run",
        group=_FIRE,
        question="Refuelling only with the engine off, the pipe cool to the touch, no smoking, an "
        "approved closed can, 10 m or more from running engines.",
        because="Vapour finds a hot pipe.",
        otherwise="A fire with the can in the hand.",
    ),
    Rule(
        id="extinguisher",
        short="extinguisher within 10 m, in date",
        level="run",
        group=_FIRE,
        question="Extinguisher for liquid fires within 10 m and in date.",
        because="The first half minute decides.",
        otherwise="You watch it burn.",
    ),
    Rule(
        id="alcohol_plan",
        short="alcohol fuel: skin and invisible flame",
        level="run",
        group=_FIRE,
        question="With alcohol fuel: everybody knows that the flame may be invisible and the fuel "
        "poisonous through the skin; extinguisher and water plan suit it.",
        because="It burns without being seen.",
        otherwise="It is fought too late and with the wrong thing.",
        may_not_apply=True,
    ),
)


def _plan_rule(suffix: str, short: str, question: str, otherwise: str) -> Rule:
    return Rule(
        id=f"plan_{suffix}",
        short=short,
        level="run",
        group=_PLAN,
        question=question,
        because="It has to be known before it is needed.",
        otherwise=otherwise,
        answer="text",
    )


_PLAN_RULES: tuple[Rule, ...] = (
    _plan_rule("number", "emergency number", "Emergency number here.", "Minutes lost looking."),
    _plan_rule(
        "access",
        "exact access",
        "Exact access: description or coordinates that a stranger finds.",
        "Help stands at the wrong gate.",
    ),
    _plan_rule("gate", "gate and key", "Gate: open, or who has the key.", "Help stands outside."),
    _plan_rule("hospital", "nearest hospital", "Nearest hospital.", "The wrong way is driven."),
    _plan_rule("driver", "who drives", "Who drives, and in which car.", "Nobody can leave."),
    _plan_rule(
        "first_aid",
        "first-aid kit and burn dressing",
        "Where first-aid kit and burn dressing are.",
        "It is looked for while it is needed.",
    ),
    _plan_rule(
        "contact",
        "rider's allergies and contact",
        "Rider's allergies and whom to call, or where the card is.",
        "Nobody can tell the medic.",
    ),
    _plan_rule(
        "phone",
        "phone signal tried on the spot",
        "Phone signal here, tried today; if none: where it starts.",
        "The call does not go out.",
    ),
)

PLACE_RULES: tuple[Rule, ...] = (
    *_GROUND_RULES,
    *_WEATHER_RULES,
    *_LAW_RULES,
    *_FIRE_RULES,
    *_PLAN_RULES,
)
