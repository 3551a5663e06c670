"""`python -m upstand_api.cli` is `upstand`."""

from upstand_api.cli import main

main()
