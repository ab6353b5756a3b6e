"""Whether a channel is straight over its test gases; a channel set in air brings the air as one more content."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from flueproof.analyzer.profile import Channel, Profile
from flueproof.bench.judgement import CheckResult, PointJudgement
from flueproof.metrology.lines.linearity import LinearityCheck, check_linearity, correction_from

LEAST_CONTENTS = 3  # OIML R 144-1, 7.2.2.2


def linearity_checks(points: Sequence[PointJudgement], profile: Profile, leak: str) -> list[CheckResult]:
    """Return a check for each gas channel with at least three contents [residuals in standard uncertainties].

    points: of one phase; leak: as located; with air coming in only gas straight at the instrument is compared.
    Source: ISO/TS 28037:2010, 7.3 and ISO 6143:2001, B.2; at least three contents: OIML R 144-1, 7.2.2.2.
    """
    results = []
    for channel in profile.channels.values():
        if not channel.measures_gas:
            continue
        usable = [point for point in points if point.channel == channel.name and _is_usable(point, leak)]
        check = _check(usable, channel)
        if check is not None:
            results.append(check)
    return results


def _is_usable(point: PointJudgement, leak: str) -> bool:
    if point.caveat is not None or not math.isfinite(point.error) or point.probe == "shop" or point.settled_u <= 0.0:
        return False
    return point.feed == "instrument" or (leak == "none" and point.feed == "tip")


def _check(points: Sequence[PointJudgement], channel: Channel) -> CheckResult | None:
    air = channel.set_in_air
    contents = {round(point.reference, 6) for point in points} | ({air} if air is not None else set())
    if len(contents) < LEAST_CONTENTS or not points:
        return None
    step_u = channel.step / math.sqrt(12.0)
    reference = [point.reference for point in points] + ([air] if air is not None else [])
    reading = [point.settled for point in points] + ([air] if air is not None else [])
    u_reading = np.array([point.settled_u for point in points] + ([step_u] if air is not None else []))
    u_reference = _covariance(points, 1 if air is not None else 0, step_u)
    said = check_linearity(np.array(reference), np.array(reading), u_reference, u_reading)
    words = "straight" if said.straight else "not straight"
    text = (
        f"{channel.title} over {len(contents)} contents{' with the air it is set in' if air is not None else ''}: "
        f"{words} (largest residual {said.largest_residual:.1f} standard uncertainties, "
        f"at {reference[said.at]:.4g} {channel.unit})."
    )
    first = points[0]
    return CheckResult(
        first.step,
        first.phase,
        "linearity",
        channel.name,
        said.straight,
        text,
        said.largest_residual,
        "u",
        2.0,
        _line(said, sorted(content for content in contents if content > 0)),
    )


def _line(said: LinearityCheck, contents: Sequence[float]) -> dict[str, Any]:
    """The line itself, and the zero and span correction that it asks for where the points lie on it."""
    line = said.fit.line
    detail: dict[str, Any] = {
        "intercept": line.intercept,
        "u_intercept": line.u_intercept,
        "slope": line.slope,
        "u_slope": line.u_slope,
        "chi_square": said.chi_square,
        "critical": said.critical,
    }
    if said.straight:
        correction = correction_from(said, np.array(contents))
        detail["correction"] = {
            "gain": correction.gain,
            "offset": correction.offset,
            "at": list(contents),
            "error_before": correction.before.tolist(),
            "u_after": correction.u_after.tolist(),
        }
    return detail


def _cause(point: PointJudgement) -> str | None:
    """What the reference's error is shared by: the lot or the bottle, as its budget line names it."""
    return next((line.shared for line in point.budget if line.shared is not None), point.reference_id)


def _covariance(points: Sequence[PointJudgement], extra: int, least: float) -> NDArray[np.float64]:
    """References of one bottle move together; `extra` places at the end stand alone with uncertainty `least`."""
    count = len(points)
    matrix = np.zeros((count + extra, count + extra))
    for row, one in enumerate(points):
        for column, other in enumerate(points):
            if _cause(one) == _cause(other):
                matrix[row, column] = one.reference_u * other.reference_u
        matrix[row, row] += (1e-3 * one.reference_u) ** 2 + (0.1 * least) ** 2  # keeps the matrix regular
    for place in range(count, count + extra):
        matrix[place, place] = least**2
    return matrix
