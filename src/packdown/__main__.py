"""Run the command line as ``python -m packdown``."""

from packdown.cli import main

main()
