"""What is shown to those who come without the key: how to get in, and nothing of any workbook."""

from starlette.responses import HTMLResponse

POLICY = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"

PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Hangar capacity: the address is not complete</title>
<style>
:root { color-scheme: light dark; }
body { font: 1.05rem/1.5 system-ui, sans-serif; max-width: 38rem; margin: 12vh auto;
  padding: 0 1.5rem; }
h1 { font-size: 1.5rem; line-height: 1.25; }
code { font-size: 0.95em; }
</style>
</head>
<body>
<h1>This address does not open the dashboard</h1>
<p>The dashboard opens only by its whole address, which contains a key. The key is made anew
each time the dashboard is started.</p>
<ul>
<li><strong>If you started it:</strong> copy the whole address that <code>capacity dashboard</code>
printed in its window into your browser.</li>
<li><strong>If you were at work on a page of an earlier start,</strong> load that page, or your
bookmark of it, again: work that was kept opens by its own address.</li>
<li><strong>If somebody else started it:</strong> ask that person.</li>
</ul>
</body>
</html>
"""


def no_way_in() -> HTMLResponse:
    """Return the page, as the answer to a request that is refused."""
    return HTMLResponse(PAGE, 403, {"Content-Security-Policy": POLICY})
