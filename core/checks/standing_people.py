"""The standing checks of rider and the people around."""

from __future__ import annotations

from core.checks.rules import Rule

__all__ = ["PEOPLE_RULES"]

_RIDER = "Rider"
_PEOPLE = "People"

_RIDER_RULES: tuple[Rule, ...] = (
    Rule(
        id="rider_helmet",
        short="full-face helmet fastened, eyes covered",
        level="run",
        group=_RIDER,
        question="Full-face helmet on and fastened, eyes covered.",
        because="Low machines put the head near the ground and the grit.",
        otherwise="Face and head take the fall.",
    ),
    Rule(
        id="rider_clothes",
        short="gloves, cloth, boots",
        level="run",
        group=_RIDER,
        question="Gloves, long sleeves and trousers of abrasion-proof cloth, over-ankle boots.",
        because="Skin meets concrete in the smallest fall.",
        otherwise="Burns, and a foot in the chain.",
    ),
    Rule(
        id="rider_sober",
        short="no alcohol, drugs, sedating medicine",
        level="run",
        group=_RIDER,
        question="No alcohol, drugs or sedating medicine, rider and helpers.",
        because="Reaction time is the stopping distance nobody sees.",
        otherwise="The signal is missed.",
    ),
    Rule(
        id="rider_fit",
        short="rider feels fit",
        level="run",
        group=_RIDER,
        question="Rider feels fit and awake.",
        because="Heat, cold and a long day tire before they are felt.",
        otherwise="The last run goes wrong.",
    ),
    Rule(
        id="rider_size",
        short="machine fits the rider",
        level="run",
        group=_RIDER,
        question="Rider reaches brake, throttle and kill without stretching.",
        because="Small machines are built for one size.",
        otherwise="The lever is out of reach when it is wanted.",
    ),
    Rule(
        id="rider_minor",
        short="minors: law, owner, guardian, adult",
        level="run",
        group=_RIDER,
        question="For a minor: local law, land owner and guardian allow it, and a responsible "
        "adult is present.",
        because="Others answer for a minor.",
        otherwise="Nobody may start.",
        may_not_apply=True,
    ),
    Rule(
        id="rider_guards",
        short="neck, back, chest guards",
        level="advice",
        group=_RIDER,
        question="Neck, back and chest guards.",
        because="Bars and ground are near.",
        otherwise="Ribs and spine take it.",
    ),
    Rule(
        id="rider_ears",
        short="ear plugs under the helmet",
        level="advice",
        group=_RIDER,
        question="Ear plugs under the helmet; an open pipe is about 100 to 110 dB(A) at the ear.",
        because="Minutes at that level are enough.",
        otherwise="Hearing does not come back.",
    ),
    Rule(
        id="rider_water",
        short="water at hand",
        level="advice",
        group=_RIDER,
        question="Water at hand.",
        because="A helmet in the sun dries a rider out.",
        otherwise="Judgement goes first.",
    ),
    Rule(
        id="rider_loose",
        short="no scarf, no loose laces",
        level="advice",
        group=_RIDER,
        question="No scarf, no loose laces or straps.",
        because="Chain and axle are a hand away.",
        otherwise="They are wound in.",
    ),
)

_HELPER_RULES: tuple[Rule, ...] = (
    Rule(
        id="second_adult",
        short="second adult, knows kill and tap",
        level="run",
        group=_PEOPLE,
        question="A second adult is here, can call for help, knows kill switch and fuel tap.",
        because="A rider who lies down calls nobody.",
        otherwise="Help comes when somebody misses you.",
    ),
    Rule(
        id="signal_agreed",
        short="go and no-go signal agreed",
        level="run",
        group=_PEOPLE,
        question="Go and no-go signal agreed; no answer means no go.",
        because="Helmet and engine swallow words.",
        otherwise="Somebody is on the strip.",
    ),
    Rule(
        id="timer_aside",
        short="timer stands to the side",
        level="run",
        group=_PEOPLE,
        question="Timer stands to the side, not in line with the strip or with the chain.",
        because="A machine out of control goes straight on.",
        otherwise="It goes through the timer.",
    ),
    Rule(
        id="speak_write",
        short="one speaks, one writes",
        level="advice",
        group=_PEOPLE,
        question="One person speaks, one writes.",
        because="Two voices make two numbers.",
        otherwise="Times under the wrong direction.",
    ),
)

PEOPLE_RULES: tuple[Rule, ...] = (*_RIDER_RULES, *_HELPER_RULES)
