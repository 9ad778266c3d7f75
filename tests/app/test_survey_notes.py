# ruff: noqa: E501 -- a sheet of paper has no margin
"""From three sheets of survey notes, messy as paper is, to a proposal: typed, told what is wrong, mended, made.

Each sheet stands as it was scribbled; beside it what a person types of it over a new short job, with their
slips, the faults that `check` names, and how each is mended. People and places are invented.
"""

import re
from dataclasses import dataclass

import pytest

from reportkit.app.command_line import main


@dataclass(frozen=True)
class Sheet:
    """One sheet: how the job is begun, what is typed over what, the survey, faults and mends, what is read."""

    notes: str
    start: tuple[str, ...]
    typed: tuple[tuple[str, str], ...]
    survey: str
    faults: dict[str, str]
    mends: tuple[tuple[str, str], ...]
    told: tuple[str, ...]
    printed: tuple[str, ...]


RATED = r"    thickness_um: .*\n    rated:(?s:.*?)    rolls:"
HEAD = "id,room,face,glazing,quantity,width,height,opens"

SHEETS = {
    "a den in feet and inches": Sheet(
        notes="""
            Ana E., den, too hot 2-6!!      3 sashes 35 5/8 x 54 1/2, TOUGHENED both panes (stamp), open
            slider fixed half 5'6 x 6-8
            wall on the map: 26.00010,-80.00020 up to 26.00110,-80.00020, looks LEFT going up
            film: VLT 35% VLR 9% TSER 55 UV rej 99% 2 mil     come Aug 5, 8 AM to 5:35 PM
            """,
        start=("--kind", "home", "--units", "us"),
        typed=(
            ("weather: .*", "weather: {use: Clear Days}"),
            ("front", "den"),
            ("    bearing: .*", "    street: {points: [[26.00010, -80.00020], [26.00110, -80.00020]], side: LEFT}"),
            ("strength: annealed", "strength: Toughened"),
            (RATED, "    spec: VLT 35% VLR 9% TSER 55 UV rej 99% 2 mil\n    rolls:"),
            ("prices:", "fitting: {date: 5-Aug, start: 8 AM, finish: 5:35 PM}\nprices:"),
        ),
        survey=f"{HEAD}\nD1,Den,west,Double,3,35 5/8,54 1/2,Yes\nD2,den,West,double,1,5'6,8-Jun,no\n",
        faults={
            "height": "not the date that a spreadsheet made of it",
            "films.sample-grey.spec": "from which side light comes",
            "fitting.date": "with its year, which a spreadsheet left out",
        },
        mends=(("VLR 9%", "VLR ext 9%"), ("UV rej 99%", "UV rejected 99%"), ("5-Aug", "2026-08-05"), ("8-Jun", "6'8")),
        told=("Read: 4 panes in 2 rows, 1 room, 1 face, 77 ft2 of glass, 1 film.", "west looks to 270.0°",
              "thickness_um 50.8", "lacks two of solar transmittance"),
        printed=("Ana Example", "Proposal"),
    ),
    "a bedroom in Spanish": Sheet(
        notes="""
            dormitorio - sol por la mañana      brújula 95 (lejos del coche)
            2 hojas 905 x 1385 se abren: sí     fija 680 x 1910, templado
            lámina: TL 40 %; RLe 8 %; TE 34 %; RE ext 9 %; rechazo UV 99 %; 50 micras
            """,
        start=("--kind", "own-home", "--units", "metric"),
        typed=(
            ("locale: .*", "language: es\nlocale: es_ES"),
            ("weather: .*", "weather: {use: clear_days}"),
            ("currency: EUR", "currency: eur"),
            ("    bearing: .*", "    compass: {reading: 95, date: 2026-02-20}"),
            ("strength: annealed", "strength: Templado"),
            (RATED, "    spec: TL 400 %; RLe 8 %; TE 34 %; RE ext 9 %; rechazo UV 99 %; 50 micras\n    rolls:"),
        ),
        survey=f"{HEAD}\nV1,bedroom,east,double,2,905,1385,Sí\nV2,bedroom,east,dobel,1,680,1910,no se\n",
        faults={
            "films.sample-grey.spec": "debe ser como máximo 100 %",
            "opens": "debe ser yes (sí) o no",
            "glazing": "debe ser un acristalamiento de este trabajo",
        },
        mends=(("TL 400 %", "TL 40 %"), ("no se", "No"), ("dobel", "double")),
        told=("Leído: 3 paños en 2 filas", "east mira a 8", "visible_transmittance_percent 40"),
        printed=("Ana Example",),
    ),
    "a shop by the sun": Sheet(
        notes="""
            shop front, sun comes on the glass 10:50 on 20 March.   2 plates 1800 x 2100, door light 2100x800 (!)
            sheet (German): LT 42 % | LR außen 9 % | Strahlungstransmission 35 % | g 0,30 -- or 0,49?  2 mil
            """,
        start=("--kind", "shop", "--units", "metric"),
        typed=(
            ("weather: .*", "weather: {use: clear_days}"),
            ("    bearing: .*", "    grazing: {date: 2026-03-20, time: 22:50, sun: Comes}"),
            (RATED, "    spec: LT 42 % | LR außen 9 % | Strahlungstransmission 35 % | g 0,30 | 2 mil\n    rolls:"),
        ),
        survey=f"{HEAD}\nP1,SHOP,south,plate,2,1500,2100,no\nP2,shop,south,plate,1,2100,1500,no\n",
        faults={
            "films.sample-grey.spec": "at least the solar transmittance",
            "faces.south.grazing.time": "at which the sun is up",
        },
        mends=(("g 0,30", "g 0,49"), ("22:50", "10:50 AM")),
        told=("Look again: P2 may have width and height in each other's place", "conditions en", "south looks to 2"),
        printed=("Ana Example",),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_of_notes_becomes_a_proposal(tmp_path, capsys, name):
    """Typed with slips, each is named at its field and nothing else is; mended, the proposal is made."""
    sheet = SHEETS[name]
    folder = tmp_path / "job"
    assert main(["start", str(folder), *sheet.start]) == 0
    job, survey = folder / "job.yaml", folder / "windows.csv"
    text = job.read_text("utf-8")
    for old, new in sheet.typed:
        assert re.search(old, text), old
        text = re.sub(old, lambda _, new=new: new, text)
    job.write_text(text, "utf-8")
    survey.write_text(sheet.survey, "utf-8")
    capsys.readouterr()

    assert main(["check", str(folder)]) == 2
    out = capsys.readouterr().out.splitlines()
    for field, rule in sheet.faults.items():
        assert any(f" {field}: " in line and rule in line for line in out), (field, out)
    assert {re.match(r"\S+ (\S+):", line)[1] for line in out} == set(sheet.faults)

    for path in (job, survey):
        text = path.read_text("utf-8")
        for wrong, right in sheet.mends:
            text = text.replace(wrong, right)
        path.write_text(text, "utf-8")
    assert main(["check", str(folder)]) == 0, capsys.readouterr().out
    told = capsys.readouterr().err
    for line in sheet.told:
        assert line in told
    assert main(["make", str(folder), "--only", "html", "--static"]) == 0
    page = (folder / "runs" / "0001" / "proposal.html").read_text("utf-8")
    for line in sheet.printed:
        assert line in page
