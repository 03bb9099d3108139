"""What only the browser can do: let Tab reach each table that scrolls, so that arrows scroll it.

The framework's tables scroll sideways on a narrow page in an element that Tab passes over, unless
their height is fixed; WCAG 2.1.1 *Keyboard* asks that it does not.
"""

import streamlit as st

# The same marks that the framework gives a table of fixed height, and only while there is more of
# the table than is seen.
JS = r"""
const SCROLLS = "[data-testid=stTable] > div:first-of-type";
let asked = 0;
let stop = () => {};

function mark() {
  asked = 0;
  for (const one of document.querySelectorAll(SCROLLS)) {
    const isCut = one.scrollWidth > one.clientWidth || one.scrollHeight > one.clientHeight;
    if (isCut && !one.hasAttribute("tabindex")) {
      one.tabIndex = 0;
      one.setAttribute("role", "region");
      one.setAttribute("aria-label", "Scrollable table");
      one.dataset.ours = "";
    } else if (!isCut && one.dataset.ours !== undefined && one !== document.activeElement) {
      for (const name of ["tabindex", "role", "aria-label", "data-ours"]) one.removeAttribute(name);
    }
  }
}

const soon = () => { asked ||= requestAnimationFrame(mark); };

export default function () {
  stop();
  const changes = new MutationObserver(soon);
  changes.observe(document.body, { childList: true, subtree: true });
  const sizes = new ResizeObserver(soon);
  sizes.observe(document.body);
  document.addEventListener("toggle", soon, true);
  soon();
  stop = () => {
    changes.disconnect();
    sizes.disconnect();
    document.removeEventListener("toggle", soon, true);
  };
  return stop;
}
"""

_SCROLLING = st.components.v2.component("scrolling_tables", js=JS)


def let_tab_reach_tables() -> None:
    """Have the browser give its focus to tables that scroll; there is nothing to see."""
    _SCROLLING(key="scrolling tables")
