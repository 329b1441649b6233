"""Views of a search while it works: plain lines, a bar in the terminal, a bar in a notebook."""

from __future__ import annotations

import sys
import time
from typing import IO, Any

from cutopt.job import Job
from cutopt.lengths import format_sale
from cutopt.signs import visible
from cutopt.solve.control.progress import Progress, State

# seconds between two lines where there is no bar
_EVERY = 5.0
# marks of a whole bar
_STEPS = 1000


def watch(job: Job | None = None) -> Progress:
    """The view that fits where the code runs: a notebook's, a terminal's bar, or plain lines.

    Parameters
    ----------
    job : Job, optional
        With it the view tells money in the job's currency and lengths as a shop sells them.
    """
    if _in_notebook():
        return NotebookView(job)
    if sys.stderr.isatty():
        return Bar(job)
    return Lines(job)


def _in_notebook() -> bool:
    """Whether a kernel that shows widgets runs this; IPython is asked only where it is loaded already."""
    ipython = sys.modules.get("IPython")
    if ipython is not None:
        shell = ipython.get_ipython()
    else:
        shell = None
    return shell is not None and "IPKernelApp" in shell.config


class Told(Progress):
    """What all views share: the words for a state."""

    def __init__(self, job: Job | None = None) -> None:
        self.job = job

    def words(self, state: State) -> str:
        """What is there and what it costs, in a line."""
        if not state.complete:
            return f"not everything has a place yet; {state.doing}"
        if 0 < state.bound < state.value:
            least = f", no plan can buy less than {self._amount(state.bound)}"
        else:
            least = ""
        if state.value and state.value == state.bound:
            sure = " (the least there is)"
        else:
            sure = ""
        if state.value:
            buy = f"to buy {self._amount(state.value)}"
        else:
            buy = "nothing to buy"
        return f"all there, {buy}{sure}{least}; {state.doing}"

    def _amount(self, value: Any) -> str:
        if self.job is None:
            return f"{value}"
        if all(row.price is not None for row in self.job.shop):
            return f"{self.job.settings.currency}{value:.2f}"
        return format_sale(int(value), self.job.settings.unit)


def to_go(doing: str, seconds: float) -> str:
    """How long something still takes: ``Writing the pages: about 3 s to go.``"""
    return f"{doing}: about {max(1, round(seconds))} s to go."


class Lines(Told):
    """Plain lines: each sentence, and the state when it changes or every five seconds."""

    def __init__(self, job: Job | None = None, stream: IO[str] | None = None) -> None:
        super().__init__(job)
        self.stream = stream or sys.stderr
        self._last = ""
        self._when = 0.0

    def say(self, text: str) -> None:
        """Write a sentence."""
        print(visible(text), file=self.stream, flush=True)

    def left(self, doing: str, seconds: float) -> None:
        """Write how long it still takes: once, and again where that takes long."""
        now = time.monotonic()
        if doing == self._last and now - self._when < _EVERY:
            return
        self._last = doing
        self._when = now
        self.say(to_go(doing, seconds))

    def at(self, state: State) -> None:
        """Write the state, not too often."""
        now = time.monotonic()
        told = state.doing
        if told == self._last and now - self._when < _EVERY:
            return
        self._last = told
        self._when = now
        print(
            f"{state.seconds:5.0f} s  {self.words(state)}", file=self.stream, flush=True
        )


class Bar(Told):
    """A bar in the terminal that fills as the time or the work is spent."""

    def __init__(self, job: Job | None = None, stream: IO[str] | None = None) -> None:
        from tqdm import tqdm

        super().__init__(job)
        form = "{percentage:3.0f} %|{bar:24}| {desc}"
        self.bar = tqdm(
            total=_STEPS,
            bar_format=form,
            file=stream or sys.stderr,
            leave=False,
            dynamic_ncols=True,
        )

    def say(self, text: str) -> None:
        """Write a sentence above the bar."""
        self.bar.write(visible(text), file=self.bar.fp)

    def at(self, state: State) -> None:
        """Move the bar."""
        self.bar.n = int(_STEPS * min(1.0, state.share))
        self.bar.set_description_str(self.words(state), refresh=False)
        self.bar.refresh()

    def left(self, doing: str, seconds: float) -> None:
        """Say beside the bar how long it still takes."""
        self.bar.set_description_str(to_go(doing, seconds))

    def done(self) -> None:
        """Take the bar away."""
        self.bar.close()


class NotebookView(Told):
    """A bar and a line of words under a notebook's cell; the notebook's own stop button ends the search."""

    def __init__(self, job: Job | None = None) -> None:
        import ipywidgets as widgets
        from IPython.display import display

        super().__init__(job)
        self.bar = widgets.FloatProgress(
            min=0.0, max=1.0, layout=widgets.Layout(width="100%")
        )
        self.label = widgets.HTML()
        self.said = widgets.HTML(
            "The square stop button above ends the search and keeps the best plan so far."
        )
        self._when = 0.0
        display(widgets.VBox([self.bar, self.label, self.said]))  # type: ignore[no-untyped-call]

    def say(self, text: str) -> None:
        """Show a sentence."""
        from cutopt.svg import escape

        self.said.value = escape(text)

    def left(self, doing: str, seconds: float) -> None:
        """Show how long it still takes."""
        self.say(to_go(doing, seconds))

    def at(self, state: State) -> None:
        """Move the bar, at most five times a second."""
        from cutopt.svg import escape

        now = time.monotonic()
        if now - self._when < 0.2:
            return
        self._when = now
        self.bar.value = min(1.0, state.share)
        self.label.value = f"{state.seconds:.0f} s: {escape(self.words(state))}"

    def done(self) -> None:
        """Leave a full bar behind."""
        self.bar.value = 1.0
        self.said.value = "Done."
