"""What people write round a sentence, and says nothing of the quilt: ``I want 12 squares``, ``make me``, ``25 of those``."""

from __future__ import annotations

from typing import Final

SMALL_TALK: Final = (
    *("i want", "i need", "i would like", "i'd like", "i will make", "i'll make"),
    *("i am making", "i'm making", "i'm doing", "i have", "i've got", "i'll do"),
    *("we want", "we need", "we would like", "we'd like", "we will make"),
    *("we'll make", "we are making", "we're making", "we're doing", "let's make"),
    *("let's do", "make me", "please make", "can you make", "give me", "do me"),
    *("there are", "there is", "there's", "there will be", "it is", "it's", "it has"),
    *("it's just", "it is just", "just", "simply", "only just", "they are"),
    *("they're", "of those", "of these", "a set of", "set of", "in all"),
    *("my quilt has", "the quilt has", "my quilt will have", "the quilt will have"),
    *("it will have", "it'll have", "this quilt has"),
    *("in total", "to start with", "or thereabouts", "if you please"),
)
"""Phrases that are left out before a sentence is read."""
