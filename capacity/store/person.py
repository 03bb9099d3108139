"""Who uses the store, where no sign-in says so."""

import getpass
import os


def user_of_this_computer() -> str:
    """Return the name of whoever runs this process."""
    try:
        return getpass.getuser()
    except (KeyError, OSError):  # a user without a name, as in a container
        return f"user {os.getuid()}" if hasattr(os, "getuid") else "somebody"
