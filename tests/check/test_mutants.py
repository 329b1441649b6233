"""A small sample of what `mutants.py` does in full by hand: rules taken out or turned round are noticed."""

from __future__ import annotations

import json
import subprocess
import sys

from tests.check import mutants
from tests.places import ROOT

SAMPLE = [
    (
        "uses",
        "if any(reaches_into(flaw, box_of(used.part.shape)) for flaw in used.cloth.flaws):",
        "if False:",
    ),
    ("uses", "< lost * lost", "<= lost * lost"),
    ("sums", "if bound > value:", "if bound >= value:"),
    ("shapes", "if here >= 0:", "if here > 0:"),
    ("laid", "by = line - seam.seam", "by = line"),
    ("finished", "if 0 < side < smallest:", "if 0 < side <= smallest:"),
]


def test_a_changed_checker_is_noticed() -> None:
    texts = []
    for module, old, new in SAMPLE:
        source = (mutants.CHECK / f"{module}.py").read_text(encoding="utf-8")
        assert source.count(old) == 1, old
        texts.append((module, source.replace(old, new)))
    code = "import json, sys; from tests.check import mutants; print(mutants.judge(json.load(sys.stdin)))"
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        input=json.dumps(texts),
        text=True,
        capture_output=True,
        check=True,
    )
    assert done.stdout.strip() == str([True] * len(SAMPLE))


def test_mutants_are_made_of_code_and_not_of_words() -> None:
    source = 'def f(x: int = 3) -> bool:\n    """1 < 2"""\n    return x < 4 and not x\n'
    texts = {text.splitlines()[-1].strip() for _, _, text in mutants.mutants(source)}
    assert {
        "return x <= 4 and (not x)",
        "return x < 5 and (not x)",
        "return x < 4 and x",
        "return x < 4",
    } <= texts
    assert all(
        text.startswith("def f") and '"""1 < 2"""' in text
        for _, _, text in mutants.mutants(source)
    )
