"""The kinds of record and the fields each may have."""

KINDS = dict.fromkeys(
    (
        "substrates",
        "preparations",
        "primers",
        "resins",
        "fleeces",
        "packs",
        "details",
        "activities",
        "limits",
        "cautions",
        "checks",
        "tools",
        "sections",
        "terms",
        "wording",
        "sources",
    )
)
