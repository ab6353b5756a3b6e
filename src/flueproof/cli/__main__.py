"""`python -m flueproof.cli`: the same command without its script."""

from __future__ import annotations

from flueproof.cli.main import main

if __name__ == "__main__":
    main()
