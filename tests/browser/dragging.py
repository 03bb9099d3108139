"""How soon a drag of a check on the board is answered."""

MOST_DRAG_MS = 100

MEASURE_DRAG = """
() => new Promise(done => {
    const board = [...document.querySelectorAll('[data-testid=stBidiComponentIsolated]')]
        .map(one => one.shadowRoot?.querySelector('.board')).find(Boolean);
    const wide = board.querySelector('.wide');
    const seconds = [];
    const began = new Map();
    wide.addEventListener('pointermove', event => {
        const at = event.timeStamp;
        requestAnimationFrame(() => setTimeout(() => {
            if (board.querySelector('.ghost')) seconds.push(performance.now() - at);
        }, 0));
    }, {capture: true});
    window.dragged = seconds;
    done();
})
"""
"""From the move of the pointer until its frame with the block under it has been drawn."""
