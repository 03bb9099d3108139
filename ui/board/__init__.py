"""The planning board: bays and man-hours on one time axis, drawn by a component of our own.

``rows.py`` is what it is given, ``sent_rows.py`` how that reaches the browser, ``component.py``
shows it and returns what a person did with it. ``source`` holds its JavaScript, from which
``board.js`` and ``carrier.js`` are bundled.
"""
