"""The log as data: JSON, and CSV by RFC 4180 that a spreadsheet cannot take for formulas."""

import csv
import io
from typing import Any

from nightmode.history.objects import identify
from nightmode.history.sitting import Look, Sitting
from nightmode.report.log import words
from nightmode.report.log.story import Story

CSV_HEAD = (
    "night", "at", "site", "telescope", "plan", "target", "usual_name", "kind", "constellation", "outcome",
    "altitude_deg", "azimuth_deg", "eyepiece", "filter", "verdict", "margin_dex", "sky_brightness",
    "seeing", "notes", "session",
)  # fmt: skip
#: What a spreadsheet takes for the beginning of a formula.
_FORMULA = tuple("=+-@\t\r\n＝＋－＠")


def log_json(story: Story) -> dict[str, Any]:
    """Return the nights with their looks as plain data; times have their offset from UTC."""
    return {"nights": [_night(sitting) for sitting in story.sittings]}


def _night(sitting: Sitting) -> dict[str, Any]:
    return {
        "night": sitting.night.isoformat(),
        "session": sitting.file,
        "plan": sitting.plan,
        "site": sitting.site,
        "latitude_deg": sitting.latitude_deg,
        "longitude_deg": sitting.longitude_deg,
        "timezone": sitting.timezone,
        "telescope": sitting.telescope,
        "rehearsal": sitting.rehearsal,
        "looks": [_look(look) for look in sitting.by_time],
        "happenings": [
            {
                "at": happening.at.isoformat(),
                "event": happening.event.value,
                "words": words.happened(happening),
                "sky_brightness": happening.sky_brightness,
                "seeing": happening.seeing,
                "transparency": happening.transparency,
                "dew": happening.dew,
            }
            for happening in sitting.happenings
        ],
    }


def _look(look: Look) -> dict[str, Any]:
    identity = identify(look.name)
    return {
        "at": look.at.isoformat(),
        "target": look.name,
        "usual_name": identity.name,
        "kind": identity.kind,
        "constellation": identity.constellation,
        "outcome": look.outcome.value if look.outcome else None,
        "altitude_deg": look.altitude_deg,
        "azimuth_deg": look.azimuth_deg,
        **({"telescope": look.telescope} if look.telescope else {}),
        "eyepiece": look.eyepiece or None,
        "filter": look.filter or None,
        "verdict": look.verdict,
        "margin_dex": look.margin_dex,
        "experience": look.experience,
        "notes": list(look.notes),
    }


def log_csv(story: Story) -> str:
    """Return CSV with a row of names, then a row for each look; several notes are joined by semicolons."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(CSV_HEAD)
    for sitting in story.sittings:
        for look in sitting.by_time:
            writer.writerow(_row(sitting, look))
    return out.getvalue()


def _row(sitting: Sitting, look: Look) -> list[str]:
    identity = identify(look.name)
    named = (
        sitting.site,
        look.telescope or sitting.telescope,
        sitting.plan,
        look.name,
        identity.name,
        identity.kind,
        identity.constellation,
    )
    figures = ("" if angle is None else f"{angle:g}" for angle in (look.altitude_deg, look.azimuth_deg))
    return [
        sitting.night.isoformat(),
        look.at.isoformat(),
        *map(harmless, named),
        look.outcome.value if look.outcome else "",
        *figures,
        harmless(look.eyepiece),
        harmless(look.filter),
        look.verdict or "",
        "" if look.margin_dex is None else f"{look.margin_dex:g}",
        words.sky_reading(sitting),
        words.seeing_words(sitting),
        harmless("; ".join(look.notes)),
        harmless(sitting.file),
    ]


def harmless(text: str) -> str:
    """Return a cell's text, with an apostrophe before it if a spreadsheet would take it for a formula.

    Source: OWASP, CSV Injection.
    """
    return f"'{text}" if text.startswith(_FORMULA) else text
