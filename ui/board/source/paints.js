// Colours and hatchings come from the page; here they become what a style sheet understands.

export function hatching(kind, lines, step = 7) {
  const line = (angle) =>
    `repeating-linear-gradient(${angle}deg, ${lines} 0 1px, transparent 1px ${step}px)`;
  switch (kind) {
    case "rising lines":
      return line(135);
    case "falling lines":
      return line(45);
    case "crossed lines":
      return `${line(135)}, ${line(45)}`;
    case "level lines":
      return line(0);
    case "dots":
      return `radial-gradient(circle, ${lines} 1px, transparent 1.3px)`;
    default:
      return "none";
  }
}

export function paintOn(element, paint) {
  element.style.backgroundColor = paint.ground;
  element.style.color = paint.ink;
  element.style.backgroundImage = hatching(paint.hatching, paint.lines);
  if (paint.hatching === "dots") element.style.backgroundSize = "6px 6px";
  if (paint.edge === "dashed") element.style.borderStyle = "dashed";
  if (paint.edge !== "none") element.style.borderColor = paint.border;
  if (paint.hatching !== "none") element.classList.add("hatched");
}
