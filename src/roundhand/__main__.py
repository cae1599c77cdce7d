"""`python -m roundhand`: the same as the command `roundhand`."""

from roundhand.cli import main

if __name__ == "__main__":
    main()
