"""`python -m server.cli`, the same as `stairhold`."""

from server.cli.command import main

if __name__ == "__main__":
    main()
