"""What the frozen program starts with."""

from app.cli.main import run

if __name__ == "__main__":
    run()
