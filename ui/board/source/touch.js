// A finger (or a pen) that rests on a check takes it up; one that moves at once scrolls the board.

const RESTS_MS = 400;
const SLIPS = 10;

export class RestingFinger {
  // `wide` is what is touched; `takeUp` is called with the press once the finger has rested, and
  // `isCarrying` tells whether what moves is a check and not the board.
  constructor(wide, takeUp, isCarrying) {
    this.takeUp = takeUp;
    this.waits = 0;
    // There from the beginning, since a browser asks at the first move whether it may scroll.
    wide.addEventListener(
      "touchmove",
      (event) => {
        if (isCarrying() && event.cancelable) event.preventDefault();
      },
      { passive: false },
    );
    wide.addEventListener("contextmenu", (event) => {
      if (this.waits || isCarrying()) event.preventDefault(); // some open it for such a press
    });
  }

  down(press) {
    this.up();
    this.waits = setTimeout(() => {
      this.waits = 0;
      this.takeUp(press);
    }, RESTS_MS);
  }

  // Whether the finger has gone too far for resting, so that it is the board that moves.
  hasSlipped(press, event) {
    return Math.hypot(event.clientX - press.x, event.clientY - press.y) > SLIPS;
  }

  up() {
    clearTimeout(this.waits);
    this.waits = 0;
  }
}
