"""The search, live on a terminal; a line for every improvement where there is none."""

import contextlib
import sys
from types import TracebackType
from typing import Self

from rich.console import Console
from rich.live import Live
from rich.text import Text

from capacity.escaped import encodable, escaped, unescaped
from capacity.plans.outcome import Progress


class _Screen(Console):
    """A screen that nobody may look at any more: then nothing is drawn, and the search goes on."""

    def on_broken_pipe(self) -> None:
        """Draw nothing more."""
        self.quiet = True


class ProgressLine:
    """Shows elapsed time, best money, proven bound and gap on standard error."""

    def __init__(self, currency: str, seconds: float, console: Console | None = None) -> None:
        """Prepare the line; ``currency`` labels the money, ``seconds`` is the time given."""
        self.currency, self.seconds = currency, seconds
        # The line is escaped here, and the codes that draw it must not be.
        self.console = console or _Screen(file=unescaped(sys.stderr), markup=False, highlight=False)
        self._live = Live(
            console=self.console,
            auto_refresh=False,
            transient=True,
            redirect_stdout=False,
            redirect_stderr=False,
        )
        self._last: tuple[int, float, float | None] | None = None

    def __enter__(self) -> Self:
        """Begin to draw: a large workbook takes a while until its first plan is there."""
        if self.console.is_terminal:
            self._live.start()
        with contextlib.suppress(OSError):
            self._draw(f"{0.0:5.1f} s of {self.seconds:g} s | getting ready")
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Take the line away."""
        if self.console.is_terminal:
            self._live.stop()

    def show(self, progress: Progress) -> None:
        """Show where the search stands."""
        try:
            self._show(progress)
        except OSError:  # a full disk, say: the search is worth more
            self.console.quiet = True

    def _show(self, progress: Progress) -> None:
        now = (progress.days_past, round(progress.money, 2), progress.bound)
        if self.console.is_terminal or self._last is None or now[:2] != self._last[:2]:
            self._last = now
            self._draw(self.line(progress))

    def _draw(self, line: str) -> None:
        if self.console.is_terminal:
            self._live.update(Text(line), refresh=True)
        else:
            self.console.print(line, soft_wrap=True)

    def line(self, progress: Progress) -> str:
        """Return the line: ``12 s of 60 s | best ... EUR | bound ... | gap 1.2 %``."""
        parts = [f"{progress.seconds:5.1f} s of {self.seconds:g} s"]
        if progress.days_past:
            days = "day" if progress.days_past == 1 else "days"
            parts.append(f"{progress.days_past} {days} past Latest in")
        parts.append(f"cost {progress.money:,.0f} {self.currency}")
        bound = "none yet" if progress.bound is None else f"{progress.bound:,.0f} {self.currency}"
        parts.append(f"proven bound {bound}")
        if progress.gap is not None:
            parts.append(f"gap {progress.gap * 100:.2f} %")
        parts.append(f"by {progress.source}")
        return encodable(escaped(" | ".join(parts)), self.console.encoding)
