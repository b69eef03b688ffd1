"""``python -m dieline``."""

from .cli import main

main()
