"""A small job whose every name and remark is a given text, with a plan written by hand."""

from __future__ import annotations

from dataclasses import replace

from cutopt.fabric import ByLength, Fabric, Piece
from cutopt.job import Job
from cutopt.lengths import YARD
from cutopt.plan import Join, Plan, Short
from cutopt.result import Offer, Result, Room
from cutopt.wanted import Cut, Strip
from tests.draw.sample import Maker, inches


def named_job(text: str) -> Job:
    """Two fabrics, two pieces, two cuts and a strip called by the text, all else that is free said by it too."""
    i = inches
    other = f"{text} 2"
    return Job(
        name=text,
        fabrics=(
            Fabric(name=text, kind=text, note=text),
            Fabric(name=other, tags=(text,)),
        ),
        pieces=(
            Piece.of_size(text, text, i(12), i(9), note=text),
            Piece.of_size(other, other, i(12), i(9), edges="raw"),
        ),
        shop=(ByLength(fabric=text, usable_width=i(42), sold_by=YARD // 8, note=text),),
        cuts=(
            Cut(
                name=text,
                width=i(4),
                length=i(4),
                count=3,
                fabrics=(text,),
                why=text,
                note=text,
            ),
            Cut(name=other, width=i(2), length=i("2.5"), count=2, fabrics=(other,)),
        ),
        strips=(Strip(name=text, width=i(2), total_length=i(40), why=text),),
    )


def named_result(text: str) -> Result:
    """A whole result for :func:`named_job`."""
    i = inches
    maker = Maker(named_job(text))
    row, _ = maker.cut(maker.take(text), y=i(4))
    maker.run(row, "x", i(4), 2, f"cuts/{text}")
    raw = maker.take(f"{text} 2")
    _, raw = maker.cut(raw, x=i("0.25"))
    _, raw = maker.cut(raw, y=i("0.25"))
    row, _ = maker.cut(raw, y=i("2.75"))
    maker.run(row, "x", i(2), 2, f"cuts/{text} 2")
    bought = maker.buy(text, i(42), YARD // 8)
    _, bought = maker.cut(bought, y=i("0.5"))
    (strip, _) = maker.run(bought, "y", i(2), 1, f"strips/{text}", turned=True)
    join = Join(for_=f"strips/{text}", segments=(strip,), join="none", length=i(42))
    short = Short(
        for_=f"cuts/{text}",
        count=1,
        why=f"no room for {text}",
        mends=(f"buy 1/8 yd more of {text}",),
    )
    plan: Plan = maker.plan(short=(short,), joins=(join,))
    offer = Offer(name="thriftiest", plan=plan, minutes=9, spare=0, biggest_spare=0)
    room = tuple(Room(source=source.id, across=0, along=0) for source in plan.sources)
    return Result(
        job=maker.job,
        offers=(offer, replace(offer, name="simplest to cut")),
        complete=False,
        room=room,
        because=f"{text} is wanted",
        notices=(f"Wash {text}.",),
    )
