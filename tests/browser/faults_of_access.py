"""What axe-core finds on a page: faults that keep people with a disability from using it.

axe-core (``axe/NOTICE.md``) tests the rules of WCAG 2.x that a program can test, contrast of
words included. What only a person can judge it does not.
"""

from functools import cache
from pathlib import Path

AXE = Path(__file__).parent / "axe" / "axe.min.js"

SERIOUS = ("serious", "critical")

ALSO = ("heading-order",)
"""Rules of less weight that are kept all the same: who listens to a page goes by its headings."""

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
    """Return every serious or critical fault of a page, with the markup that has it.

    What is folded away is looked at only where it has been opened.
    """
    page.evaluate(_script())
    return [
        f"{fault['rule']} ({fault['impact']}): {fault['help']}: {fault['where']}, "
        f"inside {fault['inside'] or 'no element of the framework'}"
        for fault in page.evaluate(FIND)
        if fault["impact"] in SERIOUS or fault["rule"] in ALSO
    ]
