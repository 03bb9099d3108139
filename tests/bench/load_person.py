"""Somebody at a browser, as the server sees it: a connection of its own, and nothing is drawn."""

import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import urlsplit

from streamlit.proto.Alert_pb2 import Alert
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ClientState_pb2 import ClientState
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from websockets.sync.client import ClientConnection, connect

SECONDS_TO_WAIT = 60.0


class PageFault(Exception):
    """A page showed an error, or did not come."""


@dataclass
class Shown:
    """What the last run of a page showed: buttons and number fields by label, words, its size.

    ``looks`` are the seconds after which its parts look for themselves, by part.
    """

    buttons: dict[str, str]
    numbers: dict[str, str]
    words: list[str]
    looks: dict[str, float]
    bytes: int = 0


class Person:
    """One person at one page after the other; ``query`` names the desk once there is one."""

    def __init__(self, address: str, query: str = "") -> None:
        """Be at no page yet."""
        parts = urlsplit(address)
        self._stream = f"ws://{parts.netloc}{parts.path}_stcore/stream"
        self._origin = f"http://{parts.netloc}"
        self._line: ClientConnection | None = None
        self._pages: dict[str, str] = {}
        self._page = ""
        self._has: set[str] = set()
        self.query = query
        self.shown = Shown({}, {}, [], {})

    def load(self, page: str = "") -> float:
        """Load a page anew by its address; return the seconds until all of it has come."""
        began = time.monotonic()
        self.leave()
        self._has, self._page = set(), ""
        self._line = connect(
            self._stream,
            subprotocols=["streamlit"],
            origin=self._origin,
            max_size=None,
            compression=None,  # nor does the server compress
        )
        asked = ClientState(page_name=page)
        self._ask(asked)
        return time.monotonic() - began

    def go(self, page: str) -> float:
        """Go to a page by the row of pages at the top; return the seconds it takes."""
        began = time.monotonic()
        self._page = self._pages[page]
        self._ask(ClientState())
        return time.monotonic() - began

    def click(self, label: str, numbers: Sequence[tuple[str, float]] = ()) -> float:
        """Press a button, with numbers typed into fields before; return the seconds it takes."""
        began = time.monotonic()
        asked = ClientState()
        for field, number in numbers:
            asked.widget_states.widgets.add(id=self.shown.numbers[field], double_value=number)
        asked.widget_states.widgets.add(id=self.shown.buttons[label], trigger_value=True)
        self._ask(asked)
        return time.monotonic() - began

    def watch(self, found: list[float], stop: threading.Event) -> None:
        """Let the parts of the page that look for themselves do so; keep how long each took."""
        while not stop.is_set() and self.shown.looks:
            for fragment, every in list(self.shown.looks.items()):
                began = time.monotonic()
                self._ask(ClientState(fragment_id=fragment, is_auto_rerun=True))
                took = time.monotonic() - began
                found.append(took)
                stop.wait(max(0.0, every - took))

    def leave(self) -> None:
        """Close the page."""
        if self._line is not None:
            self._line.close()
            self._line = None

    def _ask(self, asked: ClientState) -> None:
        """Ask for a run, and take in what it shows until it has ended."""
        assert self._line is not None
        asked.query_string = self.query
        asked.page_script_hash = self._page
        asked.cached_message_hashes.extend(self._has)
        said = BackMsg()
        said.rerun_script.CopyFrom(asked)
        self._line.send(said.SerializeToString())
        if not asked.fragment_id:
            self.shown = Shown({}, {}, [], {})
        while not self._hear():
            pass

    def _hear(self) -> bool:
        """Take in one message; return whether it is the end of a run."""
        assert self._line is not None
        heard = ForwardMsg()
        content = self._line.recv(timeout=SECONDS_TO_WAIT, decode=False)
        heard.ParseFromString(content)
        self.shown.bytes += len(content)
        if heard.metadata.cacheable and heard.hash:
            self._has.add(heard.hash)
        match heard.WhichOneof("type"):
            case "navigation":
                self._pages = {
                    page.url_pathname if not page.is_default else "": page.page_script_hash
                    for page in heard.navigation.app_pages
                }
                self._page = heard.navigation.page_script_hash
            case "page_info_changed":
                self.query = heard.page_info_changed.query_string
            case "auto_rerun":
                self.shown.looks[heard.auto_rerun.fragment_id] = heard.auto_rerun.interval
            case "stop_auto_rerun":
                self.shown.looks.pop(heard.stop_auto_rerun.fragment_id, None)
            case "delta":
                self._see(heard)
            case "session_event" | "page_not_found":
                raise PageFault(str(heard)[:200])
            case "script_finished":
                if heard.script_finished == ForwardMsg.FINISHED_WITH_COMPILE_ERROR:
                    raise PageFault("the page does not compile")
                return heard.script_finished != ForwardMsg.FINISHED_EARLY_FOR_RERUN
        return False

    def _see(self, heard: ForwardMsg) -> None:
        element = heard.delta.new_element
        match element.WhichOneof("type"):
            case "exception":
                raise PageFault(element.exception.message)
            case "alert" if element.alert.format == Alert.ERROR:
                raise PageFault(element.alert.body)
            case "alert":
                self.shown.words.append(element.alert.body)
            case "text":
                self.shown.words.append(element.text.body)
            case "button":
                self.shown.buttons[element.button.label] = element.button.id
            case "download_button":
                self.shown.buttons[element.download_button.label] = element.download_button.id
            case "number_input":
                self.shown.numbers[element.number_input.label] = element.number_input.id
