"""``python -m capacity``: the same as the command ``capacity``."""

from capacity.cli import main

if __name__ == "__main__":
    main()
