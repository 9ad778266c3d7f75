"""Results of the breakage screen: the verdict on every pane, and the letters that it asks for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportkit.study.screening import ASK, NOTHING_FOUND

if TYPE_CHECKING:
    from reportkit.glass import Reason
    from reportkit.study import Study
    from reportkit.study.screening import Screening


def screen(study: Study, index: int) -> dict[str, Any] | None:
    """Return the verdict on a pane with the film it was to get; null where it was to get none."""
    found = study.screen_of(index)
    return None if found is None else _verdict(found) | _numbers(found)


def _verdict(found: Screening) -> dict[str, Any]:
    deciders = [reason.who for reason in found.reasons if reason.decision == found.verdict]
    return {
        "verdict": found.verdict,
        "reasons": [reason.text for reason in found.reasons],
        "who": ", then ".join(dict.fromkeys(deciders or found.who[:1])),
        "findings": [_finding(found, reason) for reason in found.reasons],
        "approval": _approval(found),
    }


def _approval(found: Screening) -> dict[str, Any] | None:
    """Return who approved the film there in writing, when, and the file; null where nobody did."""
    one = found.approval
    return None if one is None else {"by": one.by, "date": one.date.isoformat(), "file": one.file}


def _finding(found: Screening, reason: Reason) -> dict[str, Any]:
    return {
        "verdict": reason.decision,
        "text": reason.text,
        "who": reason.who,
        "about": reason.about,
        "value": reason.value,
        "limit": reason.limit,
        "approved": found.settled(reason),
    }


def _numbers(found: Screening) -> dict[str, Any]:
    """Return what was computed, in the case with the largest share of its limit."""
    made = found.screen
    if made is None:
        return {}
    case = next(case for case in found.cases if case.day.name == made.worst.scenario)
    return {
        "absorptance": made.absorptance,
        "case": {
            "name": case.day.name,
            "time": case.time,
            "outdoor_c": case.day.t_out,
            "indoor_c": case.day.t_in,
            "frame_c": case.day.t_frame,
            "sun_w_m2": case.day.sun,
            "in_shadow_w_m2": case.day.diffuse,
        },
        "middle_c": made.worst.t_centre,
        "edge_c": made.worst.t_edge,
        "difference_k": made.worst.difference,
        "limit_k": made.worst.limit,
        "stress_mpa": made.worst.stress,
        "bare_difference_k": made.worst_bare.difference,
    }


def screens(study: Study) -> list[dict[str, Any]]:
    """Return the verdict on every pane with every film."""
    return [{"pane": pane, "film": film, **_verdict(found)} for (pane, film), found in study.screens.items()]


def letters(study: Study) -> list[dict[str, Any]]:
    """Return one letter for each film and decider: the panes that get it on condition, and what to ask."""
    found: dict[tuple[str, str], list[dict[str, Any]]] = {}
    for index, (pane, film_id) in enumerate(zip(study.job.panes, study.chosen.film_by_pane, strict=True)):
        made = study.screen_of(index)
        if film_id is None or made is None or made.verdict == NOTHING_FOUND:
            continue
        by_decider: dict[str, list[dict[str, Any]]] = {}
        for reason in made.reasons:
            if reason.decision == ASK and not made.settled(reason):
                by_decider.setdefault(reason.who, []).append(_finding(made, reason))
        for who, asked in by_decider.items():
            found.setdefault((film_id, who), []).append({"pane": pane.id, "asked": asked} | _numbers(made))
    return [{"film": film, "who": who, "panes": panes} for (film, who), panes in found.items()]
