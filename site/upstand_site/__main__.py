"""Build the handbook from a process of its own: `python -m upstand_site FOLDER`."""

from __future__ import annotations

import argparse

from upstand_site.build import build


def main() -> None:
    """Read the arguments and build."""
    parser = argparse.ArgumentParser(prog="upstand_site", description=__doc__)
    parser.add_argument("folder", help="where to; empty, missing, or an older handbook")
    parser.add_argument("--specdata", help="the folder of spec data")
    parser.add_argument("--edition", help="an edition's id; the default one where not given")
    given = parser.parse_args()
    try:
        build(given.folder, given.specdata, edition=given.edition)
    except OSError as error:
        raise SystemExit(f"the handbook can't be written: {error.strerror}") from None


if __name__ == "__main__":
    main()
