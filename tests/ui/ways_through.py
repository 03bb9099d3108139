"""Ways through the pages that several tests take."""

import time
from pathlib import Path

from streamlit.testing.v1 import AppTest

from ui.desk.board import BOARD
from ui.desk.desk import Desk
from ui.desk.job import Job

SAMPLES = Path(__file__).parents[2] / "sample_inputs"
EXCEL = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
MOST_SECONDS = 30.0


def upload(app: AppTest, name: str) -> AppTest:
    """Upload a sample on the page Planner."""
    content = (SAMPLES / name).read_bytes()
    app.file_uploader[0].set_value((name, content, EXCEL)).run()
    return app


def desk_of(app: AppTest) -> Desk:
    """Return the desk on which a page works."""
    return BOARD.desk(app.session_state["desk"])


def make_plan(app: AppTest) -> AppTest:
    """Press the button and wait for the plan."""
    button(app, "Make the plan").click().run()
    give_up = time.monotonic() + MOST_SECONDS
    while desk_of(app).is_working and time.monotonic() < give_up:
        time.sleep(0.05)
    return app.run()


def wait_for_a_first_plan(job: Job) -> None:
    """Wait until a job has told of a plan, so that stopping it has something to keep."""
    give_up = time.monotonic() + MOST_SECONDS
    while not job.words and job.is_live and time.monotonic() < give_up:
        time.sleep(0.05)


def button(app: AppTest, label: str):
    """Return the button with this label."""
    (found,) = (b for b in app.button if b.label == label)
    return found


def said(app: AppTest) -> str:
    """Return all that a page says in sentences."""
    elements = [*app.text, *app.markdown, *app.caption, *app.info, *app.warning, *app.error]
    return "\n".join(str(element.value) for element in elements)


def labels(app: AppTest) -> list[str]:
    """Return the labels of what can be downloaded."""
    return [element.proto.label for element in app.get("download_button")]
