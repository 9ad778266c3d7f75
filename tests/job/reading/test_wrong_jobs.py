# ruff: noqa: E501 -- one case a line reads as a table
"""A table of wrong jobs: each fault must name file, line, field, what was found and how to mend it."""

from dataclasses import dataclass
from pathlib import Path

import pytest

from reportkit.base.errors import Fault, JobError
from reportkit.job import load_job, write_starter
from reportkit.job.reading.book import Book, read_book
from reportkit.job.reading.survey import read_rows
from reportkit.job.reading.yamltree import read_tree
from reportkit.job.writing.book import workbook

SURVEY_HEAD = "id,room,face,glazing,width,height,"


@dataclass(frozen=True)
class Wrong:
    """One slip of the pen: what is replaced by what, and the fault it must give."""

    name: str
    file: str
    old: str
    new: str
    field: str
    rule: str
    found: str | None = None
    hint: str | None = None
    at: str | None = None  # text of the line the fault must name, if not the first line of ``new``
    line: int | None = None  # the line itself, where no text marks it


JOB, CSV = "job.yaml", "windows.csv"
ROW = "W1,study,east,double,2,905,905,906,1385,1385,1385,,1655,1655,760"

TABLE = [
    # --- words and references
    Wrong("misspelt field", JOB, "title: Windows", "titel: Windows", "titel", "is not a field", hint="did you mean title?"),
    Wrong("misspelt inner field", JOB, "bearing: 85", "baering: 85", "faces.east.baering", "is not a field", hint="did you mean bearing?"),
    Wrong("misspelt units", JOB, "units: metric", "units: metrik", "units", "must be one of us, metric", "metrik", "did you mean metric?"),
    Wrong("misspelt room in the survey", CSV, "W1,study,", "W1,stuyd,", "room", "must be a room", "stuyd", "did you mean study?"),
    Wrong("misspelt face in the survey", CSV, "W1,study,east", "W1,study,esat", "face", "must be a face", "esat", "did you mean east?"),
    Wrong("misspelt glazing", CSV, "east,double", "east,duoble", "glazing", "must be a glazing", "duoble", "did you mean double?"),
    Wrong("unknown horizon of a face", JOB, "    bearing: 85", "    horizon: tres\n    bearing: 85", "faces.east.horizon", "must be a horizon", "tres", "none yet"),
    Wrong("unknown horizon of a pane", CSV, ",90,,desk view", ",90,trees,desk view", "horizon", "must be a horizon", "trees", "none yet", at="W1,"),
    Wrong("misspelt film to compare", JOB, "compare: [sample-grey,", "compare: [sample-gray,", "compare.1", "must be a film", "sample-gray", "did you mean sample-grey?"),
    Wrong("film compared twice", JOB, "compare: [sample-grey, sample-silver]", "compare: [sample-grey, sample-grey]", "compare.2", "must be named once", "sample-grey", "remove"),
    Wrong("unknown film chosen", JOB, "compare:", "choice: {job: silver-sample}\ncompare:", "choice.job", "must be a film", "silver-sample"),
    Wrong("unknown face chosen", JOB, "compare:", "choice:\n  faces: {west: none}\ncompare:", "choice.faces.west", "must be a face", "west", at="faces: {west"),
    Wrong("unknown pane chosen", JOB, "compare:", "choice:\n  panes: {W9: none}\ncompare:", "choice.panes.W9", "must be a pane", "W9", "panes are: W1, W2", at="panes: {W9"),
    Wrong("no film chosen for a face", JOB, "compare:", "choice:\n  faces:\n    east:\ncompare:", "choice.faces.east", "must name a film, or none", at="    east:"),
    Wrong("unknown film of a pane", CSV, "plastic,floor,no,,,yes,50,,,,,,,,,,", "plastic,floor,no,,,yes,50,,,,,,,,,sample-gre,", "film", "must be a film", "sample-gre", "did you mean sample-grey?", at="W1,"),
    Wrong("room complained of", JOB, "room: study ", "room: kitchen ", "complaint.room", "must be a room", "kitchen", "rooms are: study"),
    Wrong("unknown complaint", JOB, "kinds: [glare, heat]", "kinds: [glaer, heat]", "complaint.kinds.1", "must be one of", "glaer", "did you mean glare?"),
    Wrong("glass unknown", JOB, "        glass: clear             #", "        glass: claer             #", "glazings.double.lites.1.glass", "must be one of", "claer", "did you mean clear?"),
    Wrong("id twice", JOB, "  - id: door", "  - id: Double", "glazings.Double.id", "must be an id used once", "Double", "line"),
    Wrong("pane id twice", CSV, "W2,study", "w1,study", "id", "must be an id used once", "w1", "line"),
    Wrong("id with a slash", JOB, "id: sample", "id: a/b", "id", "must be a short name", "a/b"),
    # --- numbers
    Wrong("bearing over the circle", JOB, "bearing: 85", "bearing: 412", "faces.east.bearing", "must be under 360", "412"),
    Wrong("latitude over the pole", JOB, "latitude: 26", "latitude: 95", "site.latitude", "must be at most 90", "95"),
    Wrong("one coordinate alone", JOB, "  longitude: -80", "  # longitude: -80", "site.longitude", "must be given when latitude is", at="site:", hint="give both"),
    Wrong("number with its unit", JOB, "thickness_um: 50             #", "thickness_um: 50 um          #", "films.sample-grey.thickness_um", "must be a number alone", "50 um", "field's name"),
    Wrong("percent sign", JOB, "solar_transmittance_percent: 34", "solar_transmittance_percent: 34%", "films.sample-grey.rated.solar_transmittance_percent", "without a unit", "34%"),
    Wrong("thousands separator in money", JOB, "price: 690.00", "price: 1,690.00", "films.sample-grey.rolls.1.price", "without thousands separators", "1,690.00", "write 1690.00"),
    Wrong("money that reads two ways", JOB, "price: 690.00", "price: 1.690", "films.sample-grey.rolls.1.price", "one way only", "1.690", "write 1690"),
    Wrong("comma that reads two ways", JOB, "elevation_m: 100", "elevation_m: 1,250", "site.elevation_m", "one way only", "1,250", "write 1250"),
    Wrong("sign of another currency", JOB, "travel: 30.00", "travel: £30", "prices.travel", "without a unit or sign", "£30"),
    Wrong("negative money", JOB, "travel: 30.00", "travel: -30.00", "prices.travel", "must be at least 0", "-30.00"),
    Wrong("number that is infinite", JOB, "latitude: 26", "latitude: .inf", "site.latitude", "must be a number", ".inf"),
    Wrong("number too large to be true", JOB, "elevation_m: 100", "elevation_m: 1e300", "site.elevation_m", "must be at most 6000", "1e300"),
    Wrong("number of many digits", JOB, "price: 690.00", f"price: {'9' * 400}", "films.sample-grey.rolls.1.price", "sensible size", "999"),
    Wrong("word for a number", JOB, "labour_per_hour: 60.00", "labour_per_hour: sixty", "prices.labour_per_hour", "must be an amount", "sixty"),
    Wrong("part of a whole number", JOB, "stages: 2", "stages: 2.5", "fitting.stages", "must be a whole number", "2.5"),
    Wrong("stages", JOB, "stages: 2", "stages: 4", "fitting.stages", "must be at most 3", "4"),
    Wrong("yes or no", JOB, "spare: no ", "spare: perhaps ", "fitting.spare", "must be yes or no", "perhaps", "write yes or no"),
    # --- dates, money, language, clock
    Wrong("date that is none", JOB, "date: 2026-03-02", "date: 2026-13-40", "quote.date", "must be a day that exists", "2026-13-40", "2026-03-31"),
    Wrong("date the other way", JOB, "date: 2026-03-02", "date: 02.03.2026", "quote.date", "year-month-day", "02.03.2026"),
    Wrong("date run together", JOB, "date: 2026-03-02", "date: 20260302", "quote.date", "year-month-day", "20260302"),
    Wrong("date of long ago", JOB, "date: 2026-03-02", "date: 0226-03-02", "quote.date", "between 1990 and 2100", "0226-03-02"),
    Wrong("offer over before it starts", JOB, "valid_until: 2026-04-01", "valid_until: 2026-02-01", "quote.valid_until", "must not be before date (2026-03-02)", "2026-02-01"),
    Wrong("fitted before quoted", JOB, "date: 2026-03-23", "date: 2026-03-01", "fitting.date", "must not be before the date of the quote", "2026-03-01"),
    Wrong("currency that is none", JOB, "currency: EUR", "currency: EUD", "currency", "ISO 4217", "EUD", "such as USD"),
    Wrong("currency as a sign", JOB, "currency: EUR", "currency: €", "currency", "three-letter code", "€", "such as USD"),
    Wrong("language that is none", JOB, "language: en", "language: qqq", "language", "must be a language", "qqq", "such as en"),
    Wrong("locale that is none", JOB, "locale: en_IE", "locale: Ireland", "locale", "language and country", "Ireland", "such as en_US"),
    Wrong("clock that is none", JOB, "clock: America/New_York", "clock: America/New_Yörk", "site.clock", "IANA", "America/New_Yörk", "did you mean America/New_York?"),
    # --- what held together only until it was computed
    Wrong("complaint twice", JOB, "kinds: [glare, heat]", "kinds: [glare, heat, heat]", "complaint.kinds", "once", "heat", "remove"),
    Wrong("skyline with three heights", JOB, "compare:", "horizons: [{id: h, points: [[90, 1], [90, 20], [90, 5]]}]\ncompare:", "horizons.h.points", "at most two heights", "90", "upright edge"),
    Wrong("tiers that fall", JOB, "    rate: 0.30", "    tiers: [{rate: 1, up_to_kwh: 500}, {rate: 2, up_to_kwh: 100}, {rate: 3}] ", "energy.electricity.tiers.2.up_to_kwh", "over that of the tier above", "100"),
    Wrong("tiers that end", JOB, "    rate: 0.30", "    tiers: [{rate: 1, up_to_kwh: 500}] ", "energy.electricity.tiers.1.up_to_kwh", "left out in the last tier", "500"),
    Wrong("hours that are none", JOB, "    rate: 0.30", "    periods: [{name: a, rate: 1}, {name: b, rate: 2, hours: [24, 0]}] ", "energy.electricity.periods.2.hours", "span of the clock", "24, 0", "22, 6"),
    Wrong("hours without a rate", JOB, "    rate: 0.30", "    periods: [{name: a, rate: 1, hours: [0, 22]}, {name: b, rate: 2, weekdays: workdays}] ", "energy.electricity.periods", "every hour of the year", "month 1, 22:00, weekends", "last period"),
    Wrong("growth without bound", JOB, "[0, 1, 3]", "[0, 1, 1000000]", "energy.growth_percent.3", "at most 50", "1000000"),
    Wrong("fuel with next to no heat", JOB, "kwh_per_unit: 10.6", "kwh_per_unit: 1e-300", "energy.fuels.gas.kwh_per_unit", "at least 0.1", "1e-300"),
    Wrong("fuel of unknown heat", JOB, "kwh_per_unit: 10.6", "# none: 10.6", "energy.fuels.gas.kwh_per_unit", "none of kWh, MJ, GJ, therm", at="- id: gas"),
    Wrong("months of the other half of the earth", JOB, "weather:\n  use: shipped\n  name: miami", "weather:\n  normals:\n    source: none\n    mean_c: [20, 20, 18, 15, 12, 9, 8, 9, 11, 14, 16, 18]\n    daily_range_k: [8, 8, 8, 8, 8, 8, 8, 8, 8, 8, 8, 8]\n    sun_kwh_m2_day: [6.5, 5.5, 4.3, 3, 2, 1.6, 1.8, 2.5, 3.6, 4.7, 5.8, 5.6]\n  use: normals", "weather.normals.sun_kwh_m2_day.1", "at most 6.0", "6.5", "other half of the earth", at="sun_kwh"),
    # --- glass and film
    Wrong("transmittance and reflectance over the whole", JOB, "solar_reflectance_glass_side_percent: 9 ", "solar_reflectance_glass_side_percent: 67 ", "films.sample-grey.rated.solar_reflectance_glass_side_percent", "must not exceed 100 together with", "67", "sheet"),
    Wrong("the same in daylight, film side", JOB, "visible_reflectance_film_side_percent: 8", "visible_reflectance_film_side_percent: 60.5", "films.sample-grey.rated.visible_reflectance_film_side_percent", "must not exceed 100 together with visible_transmittance_percent (40)", "60.5"),
    Wrong("percent over a hundred", JOB, "uv_transmittance_percent: 1\n      shgc", "uv_transmittance_percent: 101\n      shgc", "films.sample-grey.rated.uv_transmittance_percent", "must be at most 100", "101"),
    Wrong("exterior film inside", JOB, "film_class: ceramic ", "film_class: exterior ", "films.sample-grey.side", "must be outside", "inside", "side: outside", at="side: inside"),
    Wrong("low-emissivity film without its emissivity", JOB, "film_class: ceramic ", "film_class: low_emissivity ", "films.sample-grey.rated.emissivity", "must be at most 0.5", "0.9", at="emissivity: 0.9"),
    Wrong("coating on a surface the unit lacks", JOB, "  - id: door", "    coating: {kind: soft_low_e, surface: 5}\n  - id: door", "glazings.double.coating.surface", "must be one of 1 to 4", "5"),
    Wrong("soft coating in the open", JOB, "  - id: door", "    coating: {kind: soft_low_e, surface: 4}\n  - id: door", "glazings.double.coating.surface", "inside a sealed unit", "4", "hard_low_e"),
    Wrong("gap too few", JOB, "    gaps:                        # one fewer than sheets\n      - width_mm: 12\n        gas: air", "    # none\n    #\n    #", "glazings.double.gaps", "one gap fewer", "2 sheets, 0 gaps", at="- id: double"),
    Wrong("step over the longest length", JOB, "step: 0.5 m", "step: 31 m", "films.sample-grey.rolls.2.step", "must be at most the longest length", "31000 mm", at="step: 31 m"),
    Wrong("two prices for one roll", JOB, "price: 690.00", "price_per_m: 4\n        price: 690.00", "films.sample-grey.rolls.1.price", "only one", "2 of them", at="price: 690.00"),
    Wrong("whole roll of no length", JOB, "        length: 30.5 m\n        price: 410.00", "        price: 410.00", "films.sample-silver.rolls.1.length", "must be given when the roll is sold whole", at="- width: 1524 mm", line=-1),
    Wrong("neither price nor shelf", JOB, "        price: 410.00", "        # none", "films.sample-silver.rolls.1.price", "and only one", "0 of them", "give in_stock", at="- width: 1524 mm", line=-1),
    Wrong("shelf without a length", JOB, "        length: 30.5 m\n        price: 410.00", "        in_stock: 2", "films.sample-silver.rolls.1.length", "must be given for rolls on the shelf", at="- width: 1524 mm", line=-1),
    Wrong("packs of film by length", JOB, "        price: 410.00", "        price_per_m: 9.00\n        pack: 3", "films.sample-silver.rolls.1.pack", "must be left out", "3", "price of a pack", at="pack: 3"),
    Wrong("roll like a reel of tape", JOB, "- width: 1524 mm\n        length: 30.5 m\n        price: 690.00", "- width: 15.24 mm\n        length: 30.5 m\n        price: 690.00", "films.sample-grey.rolls.1.width", "must be at least 100 mm", "15.24 mm"),
    # --- weather
    Wrong("year that does not ship", JOB, "use: shipped\n  name: miami", "use: shipped\n  name: maimi", "weather.name", "must be a year that ships", "maimi", "did you mean miami?", at="name: maimi"),
    Wrong("shipped without a name", JOB, "use: shipped\n  name: miami", "use: shipped", "weather.name", "must be given when use is shipped", at="weather:"),
    Wrong("weather file outside", JOB, "use: shipped\n  name: miami", "use: file\n  file: ../other/year.epw", "weather.file", "inside the job's folder", "../other/year.epw", at="file: .."),
    Wrong("weather file by an absolute path", JOB, "use: shipped\n  name: miami", "use: file\n  file: /etc/hostname", "weather.file", "inside the job's folder", "/etc/hostname", at="file: /etc"),
    Wrong("weather file on a drive", JOB, "use: shipped\n  name: miami", "use: file\n  file: C:\\year.epw", "weather.file", "inside the job's folder", "C:\\year.epw", at="file: C:"),
    Wrong("weather file missing", JOB, "use: shipped\n  name: miami", "use: file\n  file: year.epw", "weather.file", "must be there", "year.epw", at="file: year"),
    Wrong("weather file that is none", JOB, "use: shipped\n  name: miami", "use: file\n  file: windows.csv", "weather.file", "must be a weather file", "windows.csv", at="file: windows"),
    Wrong("wrong sign of the longitude", JOB, "longitude: -80", "longitude: 80", "site.latitude", "must lie within 500 km", "km away", "signs", at="latitude: 26"),
    # --- form of the job file
    Wrong("field twice", JOB, "language: en", "currency: EUR\nlanguage: en", "currency", "must be given once", hint="the first is in line", at="currency: EUR", line=-1),
    Wrong("tab for indentation", JOB, "  place: Invented Quay", "\tplace: Invented Quay", "", "spaces, not with tabs", "place: Invented Quay", "two spaces"),
    Wrong("colon in a text", JOB, "title: Windows beside", "title: Windows: beside", "", "must be YAML", "title: Windows: beside", "quotation marks"),
    Wrong("bracket left open", JOB, "kinds: [glare, heat] ", "kinds: [glare, heat ", "", "must be YAML", hint="quotation marks", line=0),
    Wrong("second document", JOB, "# ---- Where", "---\n# ---- Where", "", "must hold one document", hint="keep one"),
    Wrong("tag", JOB, "title: Windows", "title: !!python/name:os.system Windows", "", "must have no tags", hint="starts with !"),
    Wrong("list for a text", JOB, "language: en", "language: [en, de]", "language", "must be one text", "a list of 2"),
    Wrong("text for a list", JOB, "  terms:\n    - The deposit", "  terms: The deposit", "quote.terms", "must be a list", "The deposit", "dash"),
    Wrong("text for a group", JOB, "tax:\n    name: VAT\n    percent: 20\n    prices_include_it: no", "tax: 20", "prices.tax", "must be a group of fields", "20", "indent"),
    Wrong("field left empty", JOB, "  name: Ana Example", "  name:   # nobody", "client.name", "must be given", hint="such as name:", at="# nobody"),
    Wrong("field left out", JOB, "units: metric ", "# units: metric ", "units", "must be given", hint="such as units:", at="id: sample"),
    Wrong("decimal comma inside braces", JOB, "- width: 1524 mm\n        length: 30.5 m\n        price: 410.00", "- {width: 1524 mm, length: 30,5 m, price: 410.00}", "films.2.rolls.1", "must not be cut by a comma", "5 m", "quotation marks"),
    Wrong("panes in the job file", JOB, "compare:", "panes: []\ncompare:", "panes", "is not a field", hint="windows.csv"),
    # --- the survey
    Wrong("negative width", CSV, "double,2,905,", 'double,2,"-35 5/8""",', "width", "must be over 0", '-35 5/8"'),
    Wrong("width of two readings", CSV, "double,2,905,", 'double,2,"1,200",', "width", "can be read one way only", "1,200", "write 1200 or 1.2"),
    Wrong("sill of two readings", CSV, "1655,1655,760", "1655,1655,1.200", "sill", "can be read one way only", "1.200", "write 1200 or 1.2", at="W1,"),
    Wrong("thousands by the Swiss sign", CSV, "double,2,905,", "double,2,1'200,", "width", "less than 12 inches", "1'200"),
    Wrong("roll of two readings", JOB, "- width: 1524 mm\n        length: 30.5 m\n        price: 690.00", "- width: 1.524 mm\n        length: 30.5 m\n        price: 690.00", "films.sample-grey.rolls.1.width", "can be read one way only", "1.524 mm", "write 1524 mm or 1.5240 mm"),
    Wrong("height of two readings", JOB, "elevation_m: 100", "elevation_m: 1.250", "site.elevation_m", "one way only", "1.250", "write 1250 or 1.25"),
    Wrong("no width", CSV, "double,2,905,", "double,2,,", "width", "must be given", hint="such as"),
    Wrong("no length at all", CSV, "double,2,905,", "double,2,wide,", "width", "must be one length", "wide", "such as"),
    Wrong("pane like a postage stamp", CSV, "double,2,905,905,906", "double,2,9,,", "width", "must be at least 20 mm", "9", "write 9 in if it is inches"),
    Wrong("pane like a house", CSV, "double,2,905,905,906", "double,2,9050,,", "width", "must be at most 6000 mm", "9050"),
    Wrong("fraction without a unit in millimetres", CSV, "double,2,905,", "double,2,35 5/8,", "width", "must carry its unit", "35 5/8", "write 35 5/8 in"),
    Wrong("readings that do not agree", CSV, "905,905,906", "905,935,906", "width_2", "within 25 mm", "935", "measure again"),
    Wrong("height among the widths", CSV, "905,905,906", "905,905,1385", "width_3", "within 25 mm", "1385", "each other's column"),
    Wrong("diagonal that cannot be", CSV, "1385,,1655,1655", "1385,,1755,1655", "diagonal_1", "diagonal does not match", "1755", "measure again"),
    Wrong("overhang's height without an overhang", CSV, "760,600,150", "760,,150", "overhang_above", "no overhang", "150"),
    Wrong("share of a pane that does not open", CSV, "metal,floor,no,,,no,,", "metal,floor,no,,,no,50,", "opens_percent", "does not open", "50", "say yes under opens"),
    Wrong("seam beside the pane", CSV, "desk view,,", "desk view,905,", "seam", "on each side, on a pane 905 mm wide", "905", "left edge", at="W1,"),
    Wrong("seam a finger from the edge", CSV, "desk view,,", "desk view,30,", "seam", "at least 50 mm (2 in)", "30", "left edge", at="W1,"),
    Wrong("seams from right to left", CSV, "desk view,,", "desk view,600 & 300,", "seam", "must rise from left to right", "600 & 300", at="W1,"),
    Wrong("seam left unfinished", CSV, "desk view,,", "desk view,600 &,", "seam", "must be one length", "600 &", "600 & 1200", at="W1,"),
    Wrong("mullion that is no length", CSV, "desk view,,", "desk view,,middle", "mullion", "must be one length", "middle", at="W1,"),
    Wrong("no quantity", CSV, "double,2,905", "double,0,905", "quantity", "must be at least 1", "0"),
    Wrong("half a pane", CSV, "double,2,905", "double,1.5,905", "quantity", "must be a whole number", "1.5"),
    Wrong("unknown frame", CSV, "plastic,floor", "plastik,floor", "frame", "must be one of", "plastik", "did you mean plastic?", at="W1,"),
    Wrong("unknown access", CSV, "plastic,floor", "plastic,ladder", "access", "must be one of", "ladder", "did you mean step_ladder?", at="W1,"),
    Wrong("half a row", CSV, ROW, "W1,study,east,double,2,905", "height", "must be given", at="W1,"),
    Wrong("too many cells", CSV, "Tempered: corner mark", "Tempered, corner mark", "", "cells, one for each column", "corner mark", "quotation marks", at="W2,"),
    Wrong("unknown column", CSV, "id,room,face", "id,room,facade", "facade", "is not a column", "facade", "did you mean face?"),
    Wrong("column twice", CSV, "width,width_2,", "width,Width,", "width", "must be a column once", "Width", at="id,room"),
    Wrong("column missing", CSV, ",width,width_2,", ",sill,width_2,", "width", "must be a column", at="id,room"),
    Wrong("quotation mark left open", CSV, "double,2,905,", 'double,2,"35 5/8"",', "width", "must close every quotation mark", "W1", "35 5/8 in"),
    Wrong("cell under no column", CSV, "part_covered,film,photo", "part_covered,,photo", "column 42", "must be in a named column", "x", at="W2,"),
]  # fmt: skip


#: Slips that more than one fault may come of; of all others exactly one does: no cascade hides it.
CASCADING = {
    "id twice",  # a pane's glazing is gone by it
    "half a row",  # the rest of the row stands under the wrong columns
    "column missing",  # another is there twice
    "decimal comma inside braces",
    "months of the other half of the earth",  # one for each month with too much sun
}


def starter(tmp_path: Path) -> Path:
    """Return a right metric job whose place needs no map."""
    folder = tmp_path / "sample"
    write_starter(folder, units="metric")
    path = folder / JOB
    text = path.read_text(encoding="utf-8")
    text = text.replace("  # elevation_m: 20 ", "  elevation_m: 100 ").replace("  # clock:", "  clock:")
    path.write_text(text.replace("  # stages: 2", "  stages: 2"), encoding="utf-8")
    return folder


def snapshot(folder: Path) -> dict[str, bytes]:
    """Return every file below a folder."""
    return {str(path): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def faults_of(folder: Path) -> tuple[Fault, ...]:
    """Return the faults of a job that must have some."""
    with pytest.raises(JobError) as caught:
        load_job(folder)
    return caught.value.faults


def spoil(folder: Path, wrong: Wrong) -> int:
    """Make the slip and return the line it must be reported in."""
    path = folder / wrong.file
    text = path.read_text(encoding="utf-8")
    assert wrong.old in text, "the table and the starter have drifted apart"
    new = text.replace(wrong.old, wrong.new, 1)
    if wrong.name == "cell under no column":
        new = new.replace(",,,,,Tempered", ",x,,,,Tempered")
    path.write_text(new, encoding="utf-8")
    lines = new.split("\n")
    if wrong.line is not None and wrong.line >= 0:
        return wrong.line
    if wrong.at is not None:
        matching = [number for number, line in enumerate(lines, 1) if wrong.at in line]
        return matching[wrong.line or 0]
    first = new.index(wrong.new)
    return new[:first].count("\n") + 1


def test_base_job_is_right(tmp_path: Path) -> None:
    """The job that the table spoils has no fault by itself."""
    assert load_job(starter(tmp_path)).job.units == "metric"


@pytest.mark.parametrize("wrong", TABLE, ids=[wrong.name for wrong in TABLE])
def test_wrong_job(tmp_path: Path, wrong: Wrong) -> None:
    """A slip is one fault with file, line, field, what was found and a rule or mend, and nothing is written."""
    folder = starter(tmp_path)
    line = spoil(folder, wrong)
    before = snapshot(tmp_path)
    faults = faults_of(folder)
    listed = "\n".join(str(fault) for fault in faults)
    hits = [fault for fault in faults if wrong.rule in fault.rule and fault.field == wrong.field]
    assert hits, listed
    assert len(faults) == 1 or wrong.name in CASCADING, listed
    fault = hits[0]
    assert fault.file == wrong.file, listed
    if not (wrong.line == 0 and "YAML" in wrong.rule):  # where a bracket is missed depends on what follows
        assert fault.line == line, listed
    if wrong.found is not None:
        assert wrong.found in (fault.found or ""), listed
    if wrong.hint is not None:
        assert wrong.hint in (fault.hint or ""), listed
    where = f"{fault.file}:{fault.line}" if fault.line else fault.file
    assert str(fault).startswith(where), listed
    assert snapshot(tmp_path) == before


def test_all_faults_at_once(tmp_path: Path) -> None:
    """Slips in the job file, in the survey and across them are reported together, in order."""
    folder = starter(tmp_path)
    slips = [wrong for wrong in TABLE if wrong.name in (
        "bearing over the circle", "currency that is none", "negative width", "misspelt glazing",
        "unknown frame", "offer over before it starts", "transmittance and reflectance over the whole",
    )]  # fmt: skip
    assert len(slips) == 7
    for wrong in slips:
        spoil(folder, wrong) if wrong.name != "negative width" else None
    path = folder / CSV
    path.write_text(path.read_text(encoding="utf-8").replace(",2,905,", ",2,-905,"), encoding="utf-8")
    faults = faults_of(folder)
    assert {fault.field for fault in faults} == {wrong.field for wrong in slips}
    assert list(faults) == sorted(faults)


def test_message_form(tmp_path: Path) -> None:
    """A message reads: file, line, field, rule, what was found."""
    folder = starter(tmp_path)
    spoil(folder, next(wrong for wrong in TABLE if wrong.name == "negative width"))
    message = str(faults_of(folder)[0])
    assert message.startswith('windows.csv:4 width: must be over 0 (found "-35 5/8"")')


def test_a_chosen_film_that_no_roll_can_carry_is_named_where_its_rolls_stand(tmp_path: Path) -> None:
    """On a table of 1.2 m no piece of 1,910 mm can be pulled, nor turned across 1,524 mm; a shorter one can."""
    folder = starter(tmp_path)
    path = folder / "job.yaml"
    text = path.read_text("utf-8").replace("  # table: 2440 mm ", "  table: 1200 mm # ")
    assert "  table: 1200 mm" in text
    path.write_text(text, "utf-8")
    load_job(folder)  # compared only: the documents say why it cannot be had
    path.write_text(text.replace("compare:", "choice: {job: sample-silver}\ncompare:"), "utf-8")
    (fault,) = faults_of(folder)
    line = next(n for n, row in enumerate(path.read_text("utf-8").splitlines(), 1) if "410.00" in row) - 3
    assert (fault.file, fault.line, fault.field) == ("job.yaml", line, "films.sample-silver.rolls")
    assert "carry pane W2, 680 mm wide and 1910 mm high" in fault.rule
    assert fault.found == "widths 1524 mm" and "longer table" in str(fault.hint)
    path.write_text(text.replace("compare:", "choice: {panes: {W1: sample-silver}}\ncompare:"), "utf-8")
    load_job(folder)


def test_a_workbook_has_the_same_faults(tmp_path: Path) -> None:
    """Of every fifth slip: as a workbook the job has the same faults, each with its cell."""
    same = 0
    for wrong in TABLE[::5]:
        folder = starter(tmp_path / wrong.name)
        spoil(folder, wrong)
        tree, faults = read_tree(JOB, (folder / JOB).read_text("utf-8"))
        rows, more = read_rows(CSV, (folder / CSV).read_text("utf-8"))
        if tree is None or faults or more or CSV in str(tree.value):
            continue  # a slip of the form alone, or the survey named as some other file, which is gone then
        data = workbook(tree.value, rows)
        book = read_book("job.xlsx", data)
        if not isinstance(book, Book) or book.tree.value != given(tree.value):
            continue  # what is no field has no row
        expected = {(fault.field, fault.rule, fault.found) for fault in faults_of(folder)}
        (folder / JOB).unlink()
        (folder / CSV).unlink()
        (folder / "job.xlsx").write_bytes(data)
        found = faults_of(folder)
        assert {(fault.field, fault.rule, fault.found) for fault in found} == expected, wrong.name
        assert all(fault.cell for fault in found if fault.file == "job.xlsx"), wrong.name
        same += 1
    assert same > 15


def given(value: object) -> object:
    """Return a tree without the fields that are not given."""
    if isinstance(value, dict):
        return {name: given(part) for name, part in value.items() if part is not None}
    return [given(part) for part in value] if isinstance(value, list) else value
