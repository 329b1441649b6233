"""The job as the search sees it: whole steps of a grid, cells of cloth, placements.

From `cutopt.job.Job` (`from_job.py`) to `Model` (items, sheets, ladders of purchases), and from what the search finds to
`Layout`. `model.py` is to be opened first; `cells.py` finds the cells of a grid that lie wholly on usable cloth,
`layout.py` holds placements and purchases, `fabric_choices.py` rows for which a fabric has to be chosen, and
`weights.py` names what the search makes small.
"""
