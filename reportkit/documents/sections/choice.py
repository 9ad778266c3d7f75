"""Which film and which panes: the trade-off, the rule, what would change it, and what comes first."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from reportkit.base.translatable import english
from reportkit.documents.blocks import Block, Bullets, Column, Heading, Paragraph, Row, Section, Table
from reportkit.documents.page import Page
from reportkit.documents.runs import strong
from reportkit.documents.sections.excluded import reasons
from reportkit.documents.sections.sun import doubted
from reportkit.documents.sections.verdicts import beside_the_point
from reportkit.documents.together import together

if TYPE_CHECKING:
    from reportkit.findings.advice import CandidateFound, ChoiceMade, WhichPanes

KINDS = {
    "heat": english("Heat"),
    "glare": english("Glare"),
    "fading": english("Fading"),
    "privacy": english("Privacy"),
    "bills": english("Bills"),
}

WHY_NOTHING = {
    "no_film": english("no film was given to compare."),
    "cannot_go": english("none of the films compared can go on this glass."),
    "no_plan": english("the rolls given for the films compared cannot hold all the pieces."),
    "limits": english("no film compared keeps every pane within the limits you set."),
    "no_useful": english(
        "no film compared within your limits takes away even a tenth of what you complain of."
    ),
    "stopped": english("where film may go it takes away less than a tenth of what you complain of."),
    "none_pays": english(
        "you asked for lower bills only, and no film compared pays for itself within its life."
    ),
    "bills_unknown": english(
        "you asked for lower bills only, and what film saves cannot be told from what is known."
    ),
}

LIMITS = {
    "visible_transmittance": english("If you accepted {value} of the light: {film}."),
    "visible_reflectance": english("If you accepted {value} of the light mirrored outside: {film}."),
    "budget": english("If the budget were {value}: {film} on all panes."),
    "uv": english("If it need not block ultraviolet: {film}."),
    "uv_not_printed": english("If its seller shows that it blocks ultraviolet: {film}."),
    "no_metal_not_printed": english("If its seller shows that it holds no metal: {film}."),
    "no_metal": english("If metal were acceptable: {film}."),
    "low_glare": english("If glare need not be halved: {film}."),
    "neutral": english("If a tint were acceptable: {film}."),
    "inside": english("If film outside were acceptable: {film}."),
}

RULES = {
    "most_relief": english("If the most relief counted: {film}."),
    "least_heat": english("If only heat at the worst hour counted: {film}."),
    "best_value": english("If relief for money counted: {film}."),
    "most_light": english("If keeping daylight counted: {film}."),
    "lowest_price": english("If the price counted: {film}."),
}


def choice(page: Page) -> Section:
    """Return how the film was chosen: the trade-off, the rule, and what would change it."""
    words = page.words
    made = page.findings.choice
    blocks: list[Block] = [Heading(words("How the film was chosen"), level=2, id="choice")]
    if not made.candidates:
        blocks.append(Paragraph(words("No film was given to compare.")))
        return Section("choice", blocks)
    first = made.recommended
    name = next((_name(page, one) for one in made.candidates if one.option == first), None)
    if name is None:
        why = words(WHY_NOTHING[made.why_nothing])
        blocks.append(
            Paragraph([strong(words("Recommended: leave the glass as it is.")), " ", _sentence(why)])
        )
    else:
        rule = words(made.rule)
        blocks.append(Paragraph([strong(words("Recommended: {film}.", film=name)), " ", rule]))
    if made.by == "job":
        sentence = (
            english("What is planned was named in the job, whatever the rule says.")
            if page.own_home
            else english("What is offered was named in the job, whatever the rule says.")
        )
        blocks.append(Paragraph(words(sentence)))
    blocks.append(_trade_off(page, made))
    changes = _changes(page, made)
    if changes:
        blocks += [Paragraph(words("What would change the recommendation:")), Bullets(changes)]
    return Section("choice", blocks)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _name(page: Page, one: CandidateFound) -> str:
    if one.all_panes:
        return page.film(one.film or one.option)
    return page.words("{film} on {n} of the panes", film=page.film(one.film), n=page.fmt.number(one.panes))


def _trade_off(page: Page, made: ChoiceMade) -> Table:
    words, fmt = page.words, page.fmt
    kinds = [kind for kind in page.job.complaint.kinds if any(kind in one.relief for one in made.candidates)]
    names = {one.option: _name(page, one) for one in made.candidates}
    bare = {option.id: [one.pane for one in option.bare_because] for option in page.findings.options}
    rows = []
    for one in sorted(made.candidates, key=lambda one: (bool(one.excluded), -one.overall_relief)):
        if one.excluded:
            status = reasons(page, one.excluded)[0]
        elif one.option == made.recommended:
            status = words("recommended")
        elif one.beaten_by:
            status = words("{film} is at least as good in everything", film=names[one.beaten_by])
        elif one.overall_relief < made.least_relief and bare.get(one.option):
            status = words("must not go on {panes}", panes=together(page, bare[one.option]))
        elif one.overall_relief < made.least_relief:
            status = words("too little relief to be of use")
        else:
            status = words("a fair alternative")
        cells = [
            names[one.option],
            *[fmt.percent(one.relief[kind]) if kind in one.relief else "—" for kind in kinds],
            fmt.percent(one.t_visible),
            fmt.money(one.cost) if one.panes else "—",
            _sentence(status),
        ]
        mark: Literal["strong", "muted", "none"] = (
            "strong" if one.option == made.recommended else "muted" if one.excluded else "none"
        )
        rows.append(Row(cells, mark))
    return Table(
        [
            Column("film", words("Film")),
            *[Column(kind, words(KINDS[kind]), align="decimal") for kind in kinds],
            Column("light", words("Light in"), align="decimal"),
            Column("cost", words("Price"), align="decimal"),
            Column("status", words("Where it stands")),
        ],
        rows,
        caption=words("How much of what you complain of each film takes away, and at what price"),
        note=words(
            "Heat: at the worst hour. Glare: light at the eye of somebody a metre from the pane. Fading: damaging light "
            "(ISO 9050). Privacy: what shows from outside, by day and after dark with lights on, in the hours "
            "somebody is there. Bills: likely saving. Only the panes complained of count; several "
            "complaints count alike."
        ),
        id="trade-off",
    )


def _changes(page: Page, made: ChoiceMade) -> list[str]:
    words, fmt = page.words, page.fmt
    names = {one.option: _name(page, one) for one in made.candidates}
    lines = []
    for one in made.changes:
        sentence = (LIMITS if one.what == "limit" else RULES)[one.name]
        shown = fmt.money if one.name == "budget" else fmt.percent
        value = shown(one.value) if one.value is not None else ""
        lines.append(words(sentence, film=names[one.then], value=value))
    return lines


def which_panes(page: Page) -> Section:
    """Return which panes bring most for their money, and the best set for a budget."""
    words = page.words
    made = page.findings.which_panes
    blocks: list[Block] = [Heading(words("Which panes first"), level=2, id="which-panes")]
    if made.panes:
        blocks += doubted(page, made.doubts)
        blocks += _ranked(page, made)
    if made.budget is not None:
        blocks.append(_budget(page, made))
    if len(blocks) == 1:
        blocks.append(Paragraph(words("No pane gets film, so none comes first.")))
    return Section("which_panes", blocks)


def _ranked(page: Page, made: WhichPanes) -> list[Block]:
    words, fmt = page.words, page.fmt
    blocks: list[Block] = []
    knee = made.knee
    if knee:
        last = made.panes[knee - 1]
        names = together(page, [one.pane for one in made.panes[:knee]], first=True)
        blocks.append(
            Paragraph(
                words(
                    "{panes}: these bring {relief} of the relief for {price} of the price. Further panes add less "
                    "for their money.",
                    panes=names,
                    relief=fmt.percent(last.relief_so_far),
                    price=fmt.percent(last.price_so_far),
                )
            )
        )
    elif len(made.panes) > 1 and not made.beside_the_point.panes:
        blocks.append(Paragraph(words("No pane stands out: relief grows about evenly with the money.")))
    blocks += [Paragraph(text) for text in beside_the_point(page)]
    rows = [
        [
            one.pane,
            fmt.percent(one.relief, 1),
            fmt.money(one.part_of_price),
            fmt.percent(one.relief_so_far),
            fmt.percent(one.price_so_far),
        ]
        for one in made.panes
    ]
    blocks.append(
        Table(
            [
                Column("pane", words("Pane")),
                Column("relief", words("Relief"), align="decimal"),
                Column("price", words("Part of the price"), align="decimal"),
                Column("sum", words("Of all relief so far"), align="decimal"),
                Column("money", words("Of the price so far"), align="decimal"),
            ],
            rows,
            caption=words("Panes by relief for their part of the price"),
            note=words(
                "Relief: share of what is complained of that film takes away on this pane. The price is "
                "apportioned by area and minutes; leaving a pane out saves less where a roll is bought whole."
            ),
            id="pane-order",
        )
    )
    return blocks


def _budget(page: Page, made: WhichPanes) -> Block:
    words, fmt = page.words, page.fmt
    if not made.within_budget:
        return Paragraph(words("Your budget of {budget} cuts no film short.", budget=fmt.money(made.budget)))
    lines = []
    for one in made.within_budget:
        if not one.panes:
            lines.append(
                words(
                    "{film}: no pane fits within {budget}.",
                    film=page.film(one.film),
                    budget=fmt.money(made.budget),
                )
            )
            continue
        sure = (
            words("no better set exists")
            if one.proven
            else words("another set could be better by {gap} at most", gap=fmt.percent(one.gap, 1))
        )
        lines.append(
            words(
                "{film}: {panes} for {cost}, relief {relief}; {sure}.",
                film=page.film(one.film),
                panes=together(page, one.panes),
                cost=fmt.money(one.cost),
                relief=fmt.percent(one.relief),
                sure=sure,
            )
        )
    return Bullets(
        [
            words("Best panes for your budget of {budget}, rolls and all:", budget=fmt.money(made.budget)),
            *lines,
        ]
    )
