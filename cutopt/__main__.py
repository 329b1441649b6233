"""`python -m cutopt` is the command `cutopt`."""

from cutopt.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
