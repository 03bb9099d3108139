// Elements are made from texts and attributes only: no text of a workbook is ever read as markup.

export function make(tag, className, text) {
  const element = document.createElement(tag);
  if (className) element.className = className;
  if (text !== undefined && text !== "") element.textContent = text;
  return element;
}

// A cell of a grid, which is reached by arrow keys and says all that is seen in it.
export function cell(className, told) {
  const element = make("div", className);
  element.setAttribute("role", "gridcell");
  element.setAttribute("aria-label", told.join(". "));
  element.tabIndex = -1;
  return element;
}

// Over the days from `first` until `until`: the style sheet multiplies by the width of a day.
export function over(element, first, until) {
  element.style.setProperty("--first", first);
  element.style.setProperty("--days", until - first);
  return element;
}
