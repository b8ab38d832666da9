"""The one word of the board for each fish at each show: all of them, by code.

The codes are those of verdicts (a fish that nothing else is said of), of the reasons that stand
against an entry, and of what the choice did with a fit fish.
"""

from __future__ import annotations

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    # what the choice did
    "goes": "goes",
    "reserve": "reserve",
    "rests": "resting",
    # what is seen of a fish that could go
    "only-specks": "speck",
    "other-blemishes": "blemish",
    # verdicts
    "ready": "ready",
    "ready-after-touch-up": "ready after touch-up",
    "tight": "tight",
    "too-late": "too late",
    "vet-first": "vet first",
    "not-eligible": "not eligible",
    # what stands against an entry
    "not-to-be-shown": "not shown",
    "too-long": "too long",
    "too-short": "too short",
    "variety-not-taken": "variety not taken",
    "altered-fish-excluded": "barred",
    "altered-for-another-show": "barred",
    "came-untested": "untested",
    "other-untested": "untested",
    "new-never-clear": "kept apart",
    "new-kept-apart": "kept apart",
    "rests-after-show": "resting",
    "left-without-it": "not sent",
    "entries-closed": "entries closed",
    "form-sent": "form sent",
    "not-on-presumed-form": "entries closed",
    "parasites-not-cleared": "parasites",
    "khv-signs-noted": "KHV signs",
    "parasites-ahead": "parasites",
    "too-old": "too old",
    "longer-than-any-class": "no class",
    "shorter-than-any-class": "no class",
    "exposed": "exposed",
    "vat-taken": "vat taken",
    "vat-shared": "kept apart",
    "vat-too-cold": "vat too cold",
    "vat-too-warm": "vat too warm",
    "treated-too-near": "treated lately",
    "spawned-not-ready": "spawned lately",
    "step-to-show-too-great": "water differs",
    "off-food-vet": "off its food",
    "no-way-to-travel": "too far",
    "too-warm-to-bag": "too warm",
}
