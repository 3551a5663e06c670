"""Who may use which overlay. An address is never a credential; a key is, and only its hash is kept.

A key comes as `Authorization: Bearer <key>`. The file of keys has a line for each grant:

    acme 2bb80d537b1da3e38bd30361aa855686bde0eacd7162fef6a25fe97bf527a25b
"""

from __future__ import annotations

import hashlib
import hmac
import logging
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from upstand_api.files import stamp_of
from upstand_api.settings import Settings, SettingsFault

__all__ = ["Access", "Keys", "read_access"]

LOG = logging.getLogger("upstand_api")

_GRANT = re.compile(r"([a-z0-9-]{1,64})\s+([0-9a-f]{64})", re.ASCII)


@dataclass(frozen=True, slots=True)
class Access:
    """Grants of overlays: (overlay id, sha256 of the key in hex)."""

    public: bool = False
    grants: tuple[tuple[str, str], ...] = ()

    def allows(self, overlay: str, authorization: str | None) -> bool:
        """Tell whether an overlay may be used with what stands in the header Authorization."""
        if self.public:
            return True
        given = _digest_of(authorization)
        # every grant is compared, whatever was found before: the time taken tells nothing
        found = [
            hmac.compare_digest(given, held) and overlay == granted for granted, held in self.grants
        ]
        return any(found)


def _digest_of(authorization: str | None) -> str:
    scheme, _, key = (authorization or "").partition(" ")
    known = scheme.lower() == "bearer" and bool(key.strip())
    return hashlib.sha256(key.strip().encode("utf-8", "replace")).hexdigest() if known else ""


def read_access(settings: Settings) -> Access:
    """Read the file of keys that the settings name; raises SettingsFault."""
    if settings.keys is None:
        return Access(settings.overlays_public)
    try:
        lines = Path(settings.keys).read_text("utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        raise SettingsFault(f"UPSTAND_KEYS: {settings.keys} can't be read as text") from None
    return Access(settings.overlays_public, tuple(_grants(lines)))


def _grants(lines: Iterable[str]) -> Iterable[tuple[str, str]]:
    for number, line in enumerate(lines, 1):
        plain = line.partition("#")[0].strip()
        if not plain:
            continue
        found = _GRANT.fullmatch(plain)
        if found is None:
            # the line itself is not repeated: it may hold a key in the clear
            raise SettingsFault(
                f"UPSTAND_KEYS, line {number}: write an overlay's id and the sha256 of its key, "
                "64 digits of 0-9 and a-f"
            )
        yield found[1], found[2]


class Keys:
    """The grants as the file of keys has them now: a key that is taken out opens nothing more.

    A file that can't be read as keys leaves the grants as they were; one that is gone opens none.
    """

    def __init__(self, settings: Settings) -> None:
        """Read the file; raises SettingsFault."""
        self._settings = settings
        self._stamp = self._seen()
        self._access = read_access(settings)
        self._troubles: dict[str, str] = {}

    def _seen(self) -> object:
        return None if self._settings.keys is None else stamp_of(self._settings.keys)

    def access(self) -> Access:
        """Return the grants, read again where the file is another than before."""
        stamp = self._seen()
        if stamp != self._stamp:
            self._stamp = stamp
            self._troubles = {}
            try:
                self._access = read_access(self._settings)
            except SettingsFault as fault:
                LOG.error("%s", fault)
                self._troubles = {"UPSTAND_KEYS": str(fault)}
                if stamp is None:
                    self._access = Access(self._settings.overlays_public)
        return self._access

    def troubles(self) -> Mapping[str, str]:
        """Return what is wrong with the file now."""
        self.access()
        return self._troubles
