"""Exceptions, for misuse and bad files only; a normal answer is a value.

CapacityError
 |- InputError      the input has errors; carries every message
 |- OutputError     an output could not be written
 |- SettingsError   a setting or an argument makes no sense
 |- AuditError      a plan breaks a rule, or a figure claimed for it is not so
 |- EngineError     a solver gave an answer that cannot be used
 |- StoppedError    somebody stopped the work before it had an answer
 |- TooLargeError   a base is more than can be planned together
 `- StoreError      the plan store cannot do what is asked; nothing was changed
     |- NotAllowedError       this person's role does not let them
     `- ChangedMeanwhileError somebody agreed another plan since
"""

from collections.abc import Sequence

from capacity.messages import Level, Message


class CapacityError(Exception):
    """The parent of every exception that this package raises on purpose."""


class InputError(CapacityError):
    """The input cannot be planned; ``messages`` holds everything that was found."""

    def __init__(self, messages: Sequence[Message]) -> None:
        """Keep the messages and show the errors among them."""
        self.messages = tuple(messages)
        errors = [str(f) for f in self.messages if f.level is Level.ERROR]
        super().__init__("\n".join(errors))


class SettingsError(CapacityError, ValueError):
    """A setting or an argument makes no sense; nothing was begun."""


class OutputError(CapacityError):
    """An output could not be written; nothing is left half written."""


class AuditError(CapacityError):
    """A plan does not stand up to the audit; ``broken`` says what, line by line."""

    def __init__(self, broken: Sequence[str]) -> None:
        """Keep the lines and show them all."""
        self.broken = tuple(broken)
        super().__init__("\n".join(self.broken))


class EngineError(CapacityError):
    """A solver returned a status or values that make no sense."""


class StoppedError(CapacityError):
    """Somebody stopped the work while it was getting ready; there is no answer yet."""


class TooLargeError(CapacityError):
    """A base is more than memory or the time given holds; nothing was begun."""


class StoreError(CapacityError):
    """The plan store cannot do what is asked of it; nothing in it was changed."""


class NotAllowedError(StoreError):
    """The role of this person does not let them do it."""


class ChangedMeanwhileError(StoreError):
    """Another plan was agreed since the one that this is meant to take the place of."""
