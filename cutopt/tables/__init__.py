"""Reading and writing jobs and plans: CSV, XLSX, TOML, JSON, and the pile in words."""

from cutopt.tables.folder import read_job
from cutopt.tables.words import pile

__all__ = ["pile", "read_job"]
