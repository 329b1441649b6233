"""A sentence taken apart by a vocabulary: every word is taken by something, or told."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial
from typing import TypeVar

from cutopt.errors import Problem
from cutopt.quilt.wanted_parts import ClothWanted
from cutopt.tables.sentences.beside import fabric_within, fabrics_before
from cutopt.tables.sentences.clothing import (
    Clothing,
    bare_clothing,
    clothing_in,
    fabrics_behind,
    mixture_in,
    more_clothing,
    shared_clothing,
)
from cutopt.tables.sentences.cloths import (
    cloths_in,
    ground_first,
    part_of,
    refuse_too_many,
)
from cutopt.tables.sentences.dealing import deal_roles, said_once
from cutopt.tables.sentences.mends import NotUnderstood, mended
from cutopt.tables.sentences.numbers import count_in, size_in
from cutopt.tables.sentences.one_each import one_to_each
from cutopt.tables.sentences.places import placed_cloths
from cutopt.tables.sentences.rules import ruled
from cutopt.tables.sentences.said import Said, Share
from cutopt.tables.sentences.sizes import qualified, sides_of
from cutopt.tables.sentences.unknown_kinds import Reads, no_kind, other_kind
from cutopt.tables.sentences.vocabulary import Kind, Vocabulary
from cutopt.tables.sentences.words import Words

MadeT = TypeVar("MadeT")


def kind_in(
    text: str,
    kinds: Sequence[Kind[MadeT]],
    part: str,
    known: Collection[str] = (),
    reads: Reads | None = None,
) -> tuple[Kind[MadeT], Said]:
    """The kind that a sentence names, and the sentence taken apart by its vocabulary.

    Parameters
    ----------
    text : str
    kinds : sequence of Kind
        Among which it is looked for.
    part : str
        The part of the quilt, named in a problem.
    known : collection of str
        Names, tags and values of fabrics in lower case.
    reads : callable, optional
        Whether a sentence is understood: by it mends are tried. Nothing is mended where there is none.

    Raises
    ------
    Problem
        Where it names none, or a word of it is not understood.
    """
    words = Words.of(text, part)
    found = words.kind(kinds)
    if found is None:
        raise no_kind(words, kinds, part, reads)
    kind, one = found
    vocabulary = kind.vocabulary(part)
    try:
        said = _said(words, vocabulary, known)
    except NotUnderstood as problem:
        if reads is None:
            raise
        other = other_kind(problem, kinds, reads)
        raise other or mended(problem, vocabulary, reads, known) from problem
    said.kind = kind.many
    if kind.square:
        _one_side(said, one)
    if said.count is None and one:
        said.count = 1
    return kind, said


def _one_side(said: Said, one: bool) -> None:
    """The size of what is square: ``12 x 6"`` is twelve of 6 in, where no count is said otherwise.

    Raises
    ------
    Problem
        Where two sides differ.
    """
    plain, word = qualified(said.size)
    sides = sides_of(plain)
    if len(sides) != 2 or sides[0] == sides[1]:
        return
    count = re.fullmatch(r"(\d+)(?:\s*\D+)?", sides[0])
    if said.count is None and count and not one:
        said.count = int(count[1][:9])
        said.size = f"{sides[1]} {word}".strip()
        return
    what = f'"{said.size}" in "{said.text}" has two sides, and {said.kind} are square'
    raise Problem(said.part, what, "write one size, or rectangles")


def reads_by(read: Callable[[str], object]) -> Reads:
    """Whether a sentence is understood by a reader."""

    def reads(text: str) -> bool:
        try:
            read(text)
        except Problem:
            return False
        return True

    return reads


def taken_apart(
    text: str,
    vocabulary: Vocabulary,
    known: Collection[str] = (),
    reads: Reads | None = None,
    typed: str = "",
) -> Said:
    """Names, count, size, options and cloths of a sentence that a vocabulary declares.

    Parameters
    ----------
    text : str
    vocabulary : Vocabulary
    known : collection of str
        Names, tags and values of fabrics in lower case.
    reads : callable, optional
        Whether a sentence is understood whole; by this alone where there is none.
    typed : str
        The sentence as it was typed, where `text` has it in another order: that is what is quoted.

    Raises
    ------
    Problem
        Where a word of it is not understood.
    """
    read = partial(_taken_apart, vocabulary=vocabulary, known=known)
    try:
        return read(text)
    except NotUnderstood as problem:
        if typed and problem.word in typed:
            problem = NotUnderstood(vocabulary.part, problem.word, typed)
        tried = reads or reads_by(read)
        raise mended(problem, vocabulary, tried, known) from problem


def _taken_apart(text: str, vocabulary: Vocabulary, known: Collection[str]) -> Said:
    words = Words.of(text, vocabulary.part)
    return _said(words, vocabulary, known)


def _said(words: Words, vocabulary: Vocabulary, known: Collection[str]) -> Said:
    words.join_known(known)
    if vocabulary.named:
        words.part_names(vocabulary, known)
    if vocabulary.talk:
        words.skip_talk(vocabulary, known)
    said = Said(text=words.text, part=vocabulary.part, names=words.names)
    if vocabulary.by_place and vocabulary.cloths > 1:
        said.one_each, said.differ = one_to_each(words, known)
    placed = placed_cloths(words, vocabulary, known)
    words.part_cloths(vocabulary)
    clothed = clothing_in(words, vocabulary, known)
    if not clothed:
        clothed = shared_clothing(words, vocabulary, known)
    mixture = mixture_in(words, apart=True) if vocabulary.talk else ""
    before = fabrics_before(words, vocabulary, known)
    if vocabulary.talk:
        before = fabrics_behind(words, vocabulary, known) | before
    within = fabric_within(words, vocabulary, known)
    if within:
        clothed.append(Clothing(text=within))
    said.options, of = words.options(vocabulary)
    of = said_once(words, placed, before | of)
    if vocabulary.sized:
        said.size = size_in(words, counted=vocabulary.counted)
    if vocabulary.counted:
        said.count = count_in(words)
    rules = ruled(said)
    said.rules = rules
    if not clothed:
        clothed = bare_clothing(words, vocabulary, known)
    clothed = more_clothing(words, clothed, known)
    mixture = mixture or mixture_in(words)
    words.skip_fillers(vocabulary.small)
    if vocabulary.free:
        said.aside = words.take_aside()
    words.refuse_what_is_left()
    said.cloth_of = {
        phrase: _one_cloth(text, words, vocabulary, rules, known)
        for phrase, text in of.items()
    }
    _add_cloths(said, clothed, vocabulary, known, mixture)
    deal_roles(said, vocabulary, beside_nouns=words.beside_nouns)
    return said


def _one_cloth(
    text: str,
    words: Words,
    vocabulary: Vocabulary,
    rules: ClothWanted,
    known: Collection[str],
) -> ClothWanted:
    cloths = cloths_in(text, known)
    refuse_too_many(words.text, replace(vocabulary, cloths=1), cloths, text)
    return replace(rules, fabrics=cloths[0].fabrics)


def _add_cloths(
    said: Said,
    clothed: Sequence[Clothing],
    vocabulary: Vocabulary,
    known: Collection[str],
    mixture: str,
) -> None:
    """The cloths of a sentence, its rules with each; of several "from" each has its share."""
    read = []
    for each in clothed:
        text = each.text
        if vocabulary.ground_first:
            text = ground_first(text, known)
        cloths = cloths_in(text, known)
        if text != each.text and len(cloths) > vocabulary.cloths and not mixture:
            _share_the_ground(said, cloths)
            return
        read.append(tuple(replace(said.rules, fabrics=one.fabrics) for one in cloths))
    shared = [each for each in clothed if each.share]
    if shared and len(shared) < len(clothed):
        what = f'"{said.text}" says a share of some fabrics only'
        raise Problem(said.part, what, "say a share of each, or of none")
    if len(read) > 1 and not shared:
        what = f'"{said.text}" says "from" twice'
        mend = "name the fabrics once, joined by and, or say half from ... and half from ..."
        raise Problem(said.part, what, mend)
    mixtures = (each.mixture for each in clothed if each.mixture)
    mixture = next(mixtures, mixture)
    if mixture and not vocabulary.mixed:
        read, said.mixture = _mixed(said, read, mixture, vocabulary)
    else:
        said.mixture = mixture
    if not mixture:
        for cloths, each in zip(read, clothed, strict=True):
            refuse_too_many(said.text, vocabulary, cloths, each.text)
    if shared:
        parts = [part_of(each.share) for each in shared]
        whole = sum(part for part in parts if isinstance(part, int))
        if said.count is None and all(isinstance(part, int) for part in parts):
            said.count = whole
        said.shares = tuple(
            Share(part=part_of(each.share), cloths=cloths)
            for each, cloths in zip(shared, read, strict=True)
        )
    elif read:
        said.cloths = read[0]
    elif said.rules != ClothWanted():
        said.cloths = (said.rules,)


def _share_the_ground(said: Said, cloths: Sequence[ClothWanted]) -> None:
    """``gold, rose and bark on cream``: as many blocks of each of these, all on one ground, the first of the cloths."""
    ground, *others = (replace(said.rules, fabrics=one.fabrics) for one in cloths)
    part = Fraction(1, len(others))
    said.shares = tuple(Share(part=part, cloths=(ground, one)) for one in others)


def _mixed(
    said: Said,
    read: list[tuple[ClothWanted, ...]],
    mixture: str,
    vocabulary: Vocabulary,
) -> tuple[list[tuple[ClothWanted, ...]], str]:
    """The cloths of a mixture: all that are named for every kind of patch, of each as many as of the others.

    Where there are no more of them than kinds of patches, each is for its own.
    """
    cloths = [cloth for group in read for cloth in group]
    most = vocabulary.cloths
    if most > 1 and len(cloths) <= most:
        return read, mixture
    fabrics = tuple(word for cloth in cloths for word in cloth.fabrics)
    each = said.rules.most_each
    evenly = most == 1 and vocabulary.evenly and len(fabrics) > 1
    if evenly and said.count is not None and each is None:
        each = -(-said.count // len(fabrics))
    return [(replace(said.rules, fabrics=fabrics, most_each=each),)], mixture
