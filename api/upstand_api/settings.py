"""Settings of the API: all have defaults, all can be set in the environment.

UPSTAND_SPECDATA            folder of spec data; else the packaged one or the checkout's
UPSTAND_BASE_URL            what links begin with, such as https://roofs.example; else relative
UPSTAND_OVERLAYS            folder of overlays
UPSTAND_OVERLAYS_PUBLIC     1: every overlay answers without a key
UPSTAND_KEYS                file of keys, each line `<overlay id> <sha256 of the key, in hex>`
UPSTAND_CACHE               folder for what is built at run time, such as the handbook
UPSTAND_HANDBOOK            folder of a built handbook
UPSTAND_MAX_IN_FLIGHT       answers computed or in line before 503, default 8; as many large ones
UPSTAND_REQUESTS_PER_MINUTE requests a minute from one address before 429, default 0: no limit;
                            the handbook is not counted
UPSTAND_PROXIES             proxies in front, each adding to X-Forwarded-For; default 0: not read
"""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

__all__ = ["MAX_BODY_BYTES", "Settings", "SettingsFault"]

MAX_BODY_BYTES = 256 * 1024
"""What a request's body may hold."""


class SettingsFault(ValueError):
    """A setting that can't be used: names the variable, what was wrong and what is accepted."""


@dataclass(frozen=True, slots=True)
class Settings:
    """How one app is set up; see the module for each field's variable."""

    specdata: Path | None = None
    base_url: str = ""
    overlays: Path | None = None
    overlays_public: bool = False
    keys: Path | None = None
    cache: Path | None = None
    handbook: Path | None = None
    max_in_flight: int = 8
    requests_per_minute: int = 0
    proxies: int = 0

    @classmethod
    def from_environment(cls, environment: Mapping[str, str] | None = None) -> Settings:
        """Read the settings from environment variables; raises SettingsFault.

        >>> Settings.from_environment({"UPSTAND_BASE_URL": "https://roofs.example/"}).base_url
        'https://roofs.example'
        """
        held = os.environ if environment is None else environment
        return cls(
            specdata=_path(held, "UPSTAND_SPECDATA"),
            base_url=_base_url(held.get("UPSTAND_BASE_URL", "")),
            overlays=_path(held, "UPSTAND_OVERLAYS"),
            overlays_public=_flag(held, "UPSTAND_OVERLAYS_PUBLIC"),
            keys=_path(held, "UPSTAND_KEYS"),
            cache=_path(held, "UPSTAND_CACHE"),
            handbook=_path(held, "UPSTAND_HANDBOOK"),
            max_in_flight=_whole(held, "UPSTAND_MAX_IN_FLIGHT", 8, least=1),
            requests_per_minute=_whole(held, "UPSTAND_REQUESTS_PER_MINUTE", 0, least=0),
            proxies=_whole(held, "UPSTAND_PROXIES", 0, least=0, most=9),
        )

    def cache_folder(self) -> Path:
        """Return the folder for what is built at run time: as set, else the user's cache."""
        if self.cache is not None:
            return self.cache
        if sys.platform == "win32":
            return Path(os.environ.get("LOCALAPPDATA", Path.home())) / "upstand" / "cache"
        if sys.platform == "darwin":
            return Path.home() / "Library" / "Caches" / "upstand"
        return Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "upstand"


def _path(held: Mapping[str, str], name: str) -> Path | None:
    text = held.get(name, "")
    return Path(text) if text else None


def _flag(held: Mapping[str, str], name: str) -> bool:
    text = held.get(name, "")
    if text not in ("", "0", "1"):
        raise SettingsFault(f"{name} is {text!r}: write 1 or 0")
    return text == "1"


def _whole(
    held: Mapping[str, str], name: str, default: int, *, least: int, most: int = 999_999
) -> int:
    text = held.get(name, "")
    if not text:
        return default
    if not (text.isascii() and text.isdigit() and len(text) <= 6 and least <= int(text) <= most):
        raise SettingsFault(f"{name} is {text!r}: write a whole number from {least} to {most}")
    return int(text)


def _base_url(text: str) -> str:
    if not text:
        return ""
    try:
        parts = urlsplit(text)
        usable = (
            parts.scheme in ("http", "https")
            and bool(parts.hostname)
            and parts.port != 0
            and not (parts.query or parts.fragment or parts.username)
        )
    except ValueError:
        usable = False
    if not usable or not text.isprintable() or any(sign in text for sign in " \"'<>\\"):
        raise SettingsFault(
            f"UPSTAND_BASE_URL is {text!r}: write an address such as https://roofs.example"
        )
    return text.rstrip("/")
