"""From where parts lie to numbered cuts, and to a plan.

From a `Layout` to `cutopt.plan.Plan`. `assemble.py` is to be opened first: it takes from `cutter.py` how each cloth is
cut up, which pushes its parts together (`settle.py`) and orders the cuts (`sequence.py`); `cut_parts.py` holds each
part on the real outline once, `needed_segments.py` leaves out segments that no strip needs, `strips_alike.py` sorts
the others to strips. `offers.py` says what each offer likes, and `checked_plan.py` makes no plan that the checker
finds fault with.
"""
