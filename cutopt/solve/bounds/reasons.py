"""Why a purchase cannot be smaller, as a value that can be worked out again; `reasons_told.py` makes a sentence of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from cutopt.solve.bounds.claims import Claim, together
from cutopt.solve.bounds.relaxed import Relaxed
from cutopt.solve.model.fabric_choices import FabricChoice

# nothing: need be bought, as far as known; limit: from each fabric, too low; redone: by claims that force the very
# amount; weighed: by the programmes that bound all ways to cut, which nobody can redo with a pencil
Kind: TypeAlias = Literal["nothing", "limit", "redone", "weighed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """Why no plan costs less than `cost` (units of the model), or, where `possible` is False, why there is none.

    The costs of `claims` come to `cost`; `choice` is the one whose limits are too low.
    """

    kind: Kind
    cost: int = 0
    possible: bool = True
    claims: tuple[Claim, ...] = ()
    choice: FabricChoice | None = None


def reason_of(
    problem: Relaxed, claims: Sequence[Claim], cost: int, *, possible: bool
) -> Reason:
    """The reason that is the easiest to follow of those that force the very amount.

    Parameters
    ----------
    problem : Relaxed
    claims : sequence of Claim
        All that are known.
    cost : int
        Of the bound, units of the model.
    possible : bool
        False where it is proved that all there is is not enough.
    """
    beyond = next((choice for choice in problem.choices if choice.beyond), None)
    if beyond is not None:
        return Reason(kind="limit", possible=False, choice=beyond)
    if possible and not cost:
        return Reason(kind="nothing")
    if possible:
        enough = together(claims)
        forced = sum(claim.cost for claim in enough)
    else:
        hopeless = [claim for claim in claims if claim.bought is None]
        enough = tuple(sorted(hopeless, key=lambda claim: claim.clumsy)[:1])
        forced = cost
    kind: Kind = "redone" if enough and forced == cost else "weighed"
    return Reason(
        kind=kind,
        cost=cost,
        possible=possible,
        claims=enough if kind == "redone" else (),
    )
