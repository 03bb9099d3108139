"""What axe-core finds on a page: faults that keep people with a disability from using it.

axe-core (``axe/NOTICE.md``) tests the rules of WCAG 2.x that a program can test, contrast of
words included. What only a person can judge it does not.
"""

from functools import cache
from pathlib import Path

AXE = Path(__file__).parent / "axe" / "axe.min.js"

SERIOUS = ("serious", "critical")

OF_THE_FRAMEWORK: dict[str, str] = {}
"""Rules with faults in markup that is not ours, each with the reason why they stay; the fewer the
better."""

FIND = """async () => {
    const found = await axe.run(document, {resultTypes: ['violations']});
    return found.violations.map(fault => ({
        rule: fault.id, impact: fault.impact, help: fault.help,
        where: fault.nodes.map(node => `${node.html.slice(0, 160)} (${node.target.join(' ')})`),
    }));
}"""


@cache
def _script() -> str:
    return AXE.read_text(encoding="utf-8")


def serious_faults(page) -> list[str]:
    """Return every serious or critical fault of a page, with the markup that has it."""
    page.evaluate(_script())
    return [
        f"{fault['rule']} ({fault['impact']}): {fault['help']}: {where}"
        for fault in page.evaluate(FIND)
        if fault["impact"] in SERIOUS and fault["rule"] not in OF_THE_FRAMEWORK
        for where in fault["where"]
    ]
