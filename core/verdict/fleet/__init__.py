"""Many logs at once: tables that leave a log as Parquet, and effects over all of them."""

from core.verdict.fleet.engine import read_blocks, write_table
from core.verdict.fleet.pooling import BLOCK_FILE, block_files, pooled_effects
from core.verdict.fleet.rows import attempt_rows, block_rows, evidence_from
from core.verdict.fleet.schema import ATTEMPTS, BLOCKS, Field

__all__ = [
    "ATTEMPTS",
    "BLOCKS",
    "BLOCK_FILE",
    "Field",
    "attempt_rows",
    "block_files",
    "block_rows",
    "evidence_from",
    "pooled_effects",
    "read_blocks",
    "write_table",
]
