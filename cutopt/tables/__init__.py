"""Reading and writing jobs and plans: CSV, XLSX, TOML, JSON, and the pile in words."""

from cutopt.tables.folder import read_job
from cutopt.tables.lists import write_cut_list, write_shopping_list
from cutopt.tables.naming import name_pieces
from cutopt.tables.planfile import plan_from_json, plan_schema, plan_to_json, read_plan, write_plan
from cutopt.tables.save import save_job
from cutopt.tables.starter import new_job
from cutopt.tables.words import pile

__all__ = [
    "name_pieces",
    "new_job",
    "pile",
    "plan_from_json",
    "plan_schema",
    "plan_to_json",
    "read_job",
    "read_plan",
    "save_job",
    "write_cut_list",
    "write_plan",
    "write_shopping_list",
]
