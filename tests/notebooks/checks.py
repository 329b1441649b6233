"""What must be so in the notebooks, asked from outside: a maker's cells hold no tests.

For each notebook: words of a cell, and code that runs after it.
"""

from __future__ import annotations

from typing import Final

# of a back that was wished for: the checker finds no fault with it
_CHECKED: Final = """
from cutopt.sewn_back import sewn_backs

assert {0}.complete and co.check({0}.job, {0}.plan) == []
(made,) = sewn_backs({0}.job, {0}.plan)
"""
CHECKS: Final = {
    "01_use_up_scraps.ipynb": {
        "leftovers = sum(": "assert leftovers >= 28 and patches >= 150",
        "bigger = job.with_pieces": "assert len(bigger.pieces) == len(job.pieces) + 2",
        "window = next(": "assert window.upright and job.fabric('blossom').one_way == 'along'",
        "result = co.solve(bigger": "assert result.complete",
        "co.check(bigger": "assert co.check(bigger, result.plan) == []",
        "co.write_pages(": "assert all(path.stat().st_size > 0 for path in _)",
        "ticks = pd.read_csv": "assert {r.name for r in bigger.cuts if r.importance == 'must'} <= set(ticks['wanted'])",
        "tight = sorted(": (
            "sizes = [size for room in result.room for size in (room.across, room.along)]\n"
            "assert all(size is None or size >= 0 for size in sizes)"
        ),
        "narrow = co.solve": "assert narrow.complete and co.check(narrow.job, narrow.plan) == []",
        "levels = pd.DataFrame": "assert 0 <= float(levels.loc[0, 'bound']) <= float(levels.loc[0, 'value'])",
        "once = co.solve": "assert once.plan == again.plan",
    },
    "02_buy_the_backing.ipynb": {
        "why = pd.DataFrame": "assert why.set_index('wanted').loc['light ninth', 'how many'] == 8 * 5",
        "need = made.backing_size": "assert made.how.size(need.width, need.length) == '46 1/2 x 52 1/2'",
        "other = quilt(": "assert 'out of square' in other.notes[0]",
        "answer = backing_to_buy": (
            "cheapest, fewest = answer.best[0].way, answer.best[-1].way\n"
            "assert cheapest.money <= fewest.money\n"
            "assert fewest.seams + fewest.joins <= cheapest.seams + cheapest.joins\n"
            "assert all(way.spare_across >= 0 for way in answer.ways)"
        ),
        "bought_only = backing_to_buy": (
            "paid = [each.best[0].way.money for each in (answer, bought_only, wider)]\nassert paid == sorted(paid)"
        ),
        "small = backing_to_buy": "assert any('saves 1 yd' in miss.told for miss in small.near)",
        "found = with_search": (
            "assert all(co.check(each.result.job, each.result.plan) == [] for each in found)\n"
            "assert min(each.bought for each in found) <= min(each.way.bought for each in found)"
        ),
        "batting = batting_to_buy": "assert not batting.ways[0].tight and batting.ways[0].columns",
        "sizes_for()": "assert 'never for sleep' in sizes_for('cot').rows[0][-1]",
        "large = largest_quilt": "assert (large.best.across, large.best.down) == (7, 8)",
        "queen = quilt": (
            "assert (found.setting.across, found.setting.down) == (7, 8)\n"
            "assert '84; 80 + 12 + 10 = 102' in queen.notes[0]"
        ),
        "co.write_pages(": "assert result.complete and all(path.stat().st_size > 0 for path in _)",
        "left = backing_to_buy": (
            "taken = result.plan.totals.length_of('mist')\n"
            "assert all(way.bought + taken <= 2 * yard for way in left.ways if way.fabric == 'mist')"
        ),
    },
    "03_piece_the_back.ipynb": {
        "top = quilt_of": (
            "need, (back,) = top.backing_size, job.backs\n"
            "assert (back.width, back.length) == (need.width, need.length)"
        ),
        "result = co.solve": (
            "(back,) = job.backs\n"
            "assert result.complete and result.plan.totals.seams >= 1\n"
            "assert result.plan.totals.money < result.offers[-1].plan.totals.money"
        ),
        "co.check(job": "assert co.check(job, result.plan) == []",
        "for each in result.offers": (
            "seams = [each.plan.totals.seams for each in result.offers]\n"
            "assert seams == sorted(seams, reverse=True)"
        ),
        "whole = backing_to_buy": (
            "assert result.plan.totals.money < min(way.money for way in whole.ways)"
        ),
        "unfolded = planned": _CHECKED.format("unfolded")
        + (
            "near = 2 * 8128\n"
            "for step in made.steps:\n"
            "    (x1, y1), (x2, y2) = step.line\n"
            "    up, across = 3 * (y2 - y1) >= made.height, 3 * (x2 - x1) >= made.width\n"
            "    assert not up or abs(2 * x1 - made.width) >= 2 * near\n"
            "    assert not across or abs(2 * y1 - made.height) >= 2 * near"
        ),
        "green = planned": _CHECKED.format("green")
        + (
            "largest = max(made.parts, key=lambda part: part.box[2] * part.box[3])\n"
            "assert largest.fabric == 'pear'"
        ),
        "blocks = planned": _CHECKED.format("blocks")
        + "assert len(made.blocks) == 5 and len(made.steps) <= 16",
        "co.write_pages(": "assert all(path.stat().st_size > 0 for path in _)",
    },
}
