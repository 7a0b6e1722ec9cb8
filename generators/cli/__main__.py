"""`python -m generators.cli`, where the program is not on the path."""

from generators.cli import run

if __name__ == "__main__":
    run()
