"""Reading and writing jobs and plans: CSV, XLSX, TOML, JSON, and the pile in words.

From files to rows of text (`files/`), from rows to values (`rows/`; the pile as a table is read there too; `pile/` reads
`pile.txt`; `recipe/` the sentences of a quilt), from values to a job (`job/`, to be opened first), and a plan as files
(`plan/`). Whatever is wrong goes with its place into one `log.py`; `columns.py` names the tables and their columns;
`outlines.py` reads corners, `exact_lengths.py` writes lengths that read back equal, `dates.py` undoes what a spreadsheet
made of fractions. Nothing here knows of a search.
"""

from cutopt.tables.job.lasting_names import name_pieces
from cutopt.tables.job.reading import read_job
from cutopt.tables.job.saving import save_job
from cutopt.tables.job.starter import new_job
from cutopt.tables.pile.reading import pile
from cutopt.tables.plan.cut_list import write_cut_list
from cutopt.tables.plan.plan_file import (
    plan_from_json,
    plan_schema,
    plan_to_json,
    read_plan,
    write_plan,
)
from cutopt.tables.plan.shopping_list import write_shopping_list

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
