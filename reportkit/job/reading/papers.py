"""Rules for what the papers of a job need: whose they are, their day, the rates, the sheet of labels."""

from __future__ import annotations

from reportkit.base.translatable import translatable
from reportkit.job.model import Job
from reportkit.job.model.fitting import LABELS
from reportkit.job.reading.rules import Rules

_DAYS = (("fitting", "date"), ("survey", "measured_on"), ("prices", "dated"))


def check(rules: Rules) -> None:
    """Report papers of a business without a half, rates or client, and a plan for one's own without a day."""
    given = [name for name in ("business", "quote") if rules.raw.get(name) is not None]
    if len(given) == 1:
        (other,) = {"business", "quote"} - set(given)
        hint = translatable("remove {given} too, where it is your own home", given=given[0])
        rules.fault((other,), translatable("must be given with {given}", given=given[0]), None, hint)
    if given and rules.group("prices").get("labour_per_hour") is None:
        hint = translatable("what one person's hour costs")
        rules.fault(
            ("prices", "labour_per_hour"),
            translatable("must be given with {given}", given=given[0]),
            None,
            hint,
        )
    if given and not rules.group("client").get("name"):
        in_cells = ".xlsx:" in rules.positions.find(("client", "name"))[0]
        example = "Ana Example" if in_cells else "name: Ana Example"
        hint = translatable("such as {example}", example=example)
        rules.fault(("client", "name"), translatable("must be given"), None, hint)
    if not given and not any(rules.group(group).get(name) for group, name in _DAYS):
        rule = translatable("must be given in a job without a quote, or survey.measured_on, or prices.dated")
        rules.fault(("fitting", "date"), rule, None, translatable("the day you write this, if nothing else"))


def labels(rules: Rules, job: Job) -> None:
    """Report a first label that a sheet of the job's paper does not have."""
    first, most = job.fitting.first_label, LABELS[job.paper or "a4"]
    if first > most:
        rule = translatable(
            "must be at most {most}: a sheet has no more labels on {paper}",
            most=most,
            paper=(job.paper or "a4").capitalize(),
        )
        rules.fault(("fitting", "first_label"), rule, first)
