"""What axe-core finds on a page: faults that keep people with a disability from using it.

axe-core (``axe/NOTICE.md``) tests the rules of WCAG 2.x that a program can test, contrast of
words included. What only a person can judge it does not.
"""

from functools import cache
from pathlib import Path

AXE = Path(__file__).parent / "axe" / "axe.min.js"

SERIOUS = ("serious", "critical")

OF_THE_FRAMEWORK = {
    ("scrollable-region-focusable", "stTable"): (
        "On a narrow page the framework's tables scroll sideways in an element that asks for no "
        "focus. Chromium gives it the focus all the same (keyboard-focusable scrollers; from "
        "memory), and the cells are read by a screen reader whether or not they are in sight."
    ),
}
"""Faults in markup that is not ours: rule and element of the framework, with the reason why they
stay. The fewer the better."""

FIND = """async () => {
    const found = await axe.run(document, {resultTypes: ['violations']});
    const element = target => typeof target[0] === 'string' && document.querySelector(target[0]);
    return found.violations.flatMap(fault => fault.nodes.map(node => ({
        rule: fault.id, impact: fault.impact, help: fault.help,
        inside: element(node.target)?.closest?.('[data-testid^=st]')?.dataset.testid ?? '',
        where: `${node.html.slice(0, 160)} (${node.target.join(' ')})`,
    })));
}"""


@cache
def _script() -> str:
    return AXE.read_text(encoding="utf-8")


def serious_faults(page) -> list[str]:
    """Return every serious or critical fault of a page, with the markup that has it."""
    page.evaluate(_script())
    return [
        f"{fault['rule']} ({fault['impact']}): {fault['help']}: {fault['where']}, "
        f"inside {fault['inside'] or 'no element of the framework'}"
        for fault in page.evaluate(FIND)
        if fault["impact"] in SERIOUS and (fault["rule"], fault["inside"]) not in OF_THE_FRAMEWORK
    ]
