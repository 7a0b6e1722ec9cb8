"""Spreadsheets as people save them: any divider, UTF-8 or UTF-16, quotes, .xlsx and .ods; and files that nothing would read are told."""

from __future__ import annotations

import csv
import io
import shutil
import zipfile
from pathlib import Path
from xml.sax.saxutils import escape

import pytest
from conftest import ROOT

from generators.facts import FactsError, load

HEAD = ["file", "name", "basis", "class", "volume_solids [%]", "dry_film [µm]", "density [kg/L]", "voc [g/L]", "thin_with", "thinner_density [g/L]", "thinner_max [%]", "supplied", "trial_thinner", "trial_time",
        "air_min [°C]", "air_max [°C]", "humidity_max [%]", "recoat_after [h]", "nozzle [mm]", "uses", "notes"]
ROWS = [["sheet-trim", "Sheet Trim", "invented", "waterborne-trim-enamel", "38", "30", "1.22", "45", "water", "0", "10", "62 s Ford #4", "5 %", "45 s Ford #4", "8", "30", "80", "5", "1.5", "trim; doors", 'A note, with a comma; a "quote" and a\tcolon: so'],
        ["sheet-gloss", "Sheet Gloss", "invented", "alkyd-enamel", "56 ± 2", "36", "1.12", "290", "white spirit", "780", "5", "", "", "", "45 °F", "30", "80", "16", "1.4", "metal", "µ é ü"]]


def text(divider: str, **more) -> str:
    out = io.StringIO()
    csv.writer(out, delimiter=divider, lineterminator="\r\n", **more).writerows([HEAD, *ROWS])
    return out.getvalue()


def xlsx(rows: list[list[str]]) -> bytes:
    """A workbook of one sheet, by hand: plain figures as numbers, all else as inline text (ECMA-376, from memory)."""
    def cell(value: str) -> str:
        try:
            return f"<c><v>{float(value):g}</v></c>"
        except ValueError:
            return f'<c t="inlineStr"><is><t xml:space="preserve">{escape(value)}</t></is></c>' if value else "<c/>"

    sheet = "".join(f"<row>{''.join(map(cell, row))}</row>" for row in rows)
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        archive.writestr("[Content_Types].xml", '<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
                         '<Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>'
                         '<Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>')
        archive.writestr("_rels/.rels", '<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>')
        archive.writestr("xl/workbook.xml", '<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Paints" sheetId="1" r:id="r1"/></sheets></workbook>')
        archive.writestr("xl/_rels/workbook.xml.rels", '<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>')
        archive.writestr("xl/worksheets/sheet1.xml", f'<?xml version="1.0" encoding="UTF-8"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>{sheet}</sheetData></worksheet>')
    return made.getvalue()


def ods(rows: list[list[str]]) -> bytes:
    """A workbook of one sheet, by hand (ISO/IEC 26300, from memory)."""
    def cell(value: str) -> str:
        try:
            return f'<table:table-cell office:value-type="float" office:value="{float(value):g}"><text:p>{value}</text:p></table:table-cell>'
        except ValueError:
            return f'<table:table-cell office:value-type="string"><text:p>{escape(value)}</text:p></table:table-cell>' if value else "<table:table-cell/>"

    sheet = "".join(f"<table:table-row>{''.join(map(cell, row))}</table:table-row>" for row in rows)
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("META-INF/manifest.xml", '<?xml version="1.0"?><manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"><manifest:file-entry manifest:full-path="/" manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/><manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>')
        archive.writestr("content.xml", '<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" office:version="1.2">'
                         f'<office:body><office:spreadsheet><table:table table:name="Paints">{sheet}</table:table></office:spreadsheet></office:body></office:document-content>')
    return made.getvalue()


PLAIN = [[cell.replace("\t", " ") for cell in row] for row in [HEAD, *ROWS]]
DIALECTS = {
    "commas": ("csv", text(",").encode()), "semicolons": ("csv", text(";").encode()), "tabs": ("csv", text("\t").encode()), "a byte order mark": ("csv", text(";").encode("utf-8-sig")), "UTF-16": ("csv", text("\t").encode("utf-16")),
    "UTF-16 without its mark": ("csv", text("\t").encode("utf-16-le")), "all quoted": ("csv", text(";", quoting=csv.QUOTE_ALL).encode()), "a line that names the divider": ("csv", ("sep=;\r\n" + text(";")).encode()),
    "notes above": ("csv", ("# our paints, with commas, many, of, them\n" + text(";")).encode()), "line feeds": ("csv", text(",").replace("\r\n", "\n").encode()), "xlsx": ("xlsx", xlsx(PLAIN)), "ods": ("ods", ods(PLAIN)),
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "site_data", tmp_path / "site_data")
    return tmp_path


def test_paints_from_any_dialect_are_the_same(folder):
    found = {}
    for name, (end, raw) in DIALECTS.items():
        path = folder / f"site_data/coatings.{end}"
        path.write_bytes(raw)
        try:
            facts = load(folder)
        except FactsError as error:
            pytest.fail(f"{name}: {error}")
        path.unlink()
        trim, gloss = facts.coatings["sheet-trim"], facts.coatings["sheet-gloss"]
        found[name] = (trim.density.value, trim.supplied.seconds, trim.supplied.cup, trim.uses, trim.notes.replace("\t", " "), gloss.volume_solids.ends("%"), gloss.air_min.text, gloss.notes)
    assert len(set(map(repr, found.values()))) == 1, found
    assert found["xlsx"][:3] == (1.22, 62.0, "ford-4") and found["ods"][5] == (54, 58)


def test_a_bad_cell_is_told_at_its_row_in_every_dialect(folder):
    for end, make in (("csv", lambda rows: "\n".join("\t".join(row) for row in rows).encode("utf-16")), ("xlsx", xlsx), ("ods", ods)):
        rows = [list(row) for row in PLAIN]
        rows[2][HEAD.index("density [kg/L]")] = "heavy"
        rows = [[cell.replace('"', "") for cell in row] for row in rows]
        path = folder / f"site_data/coatings.{end}"
        path.write_bytes(make(rows))
        with pytest.raises(FactsError) as caught:
            load(folder)
        path.unlink()
        assert [(one.path, one.line) for one in caught.value.problems] == [(f"site_data/coatings.{end}", 3)], (end, caught.value.problems)


def test_a_table_of_facts_may_be_a_workbook(folder):
    path = folder / "site_data/surfaces.csv"
    rows = [row for row in csv.reader(path.read_text(encoding="utf-8").splitlines()) if row and not row[0].startswith("#")]
    before = load(folder).surfaces
    path.unlink()
    for end, make in (("xlsx", xlsx), ("ods", ods)):
        (folder / f"site_data/surfaces.{end}").write_bytes(make(rows))
        after = load(folder).surfaces
        def told(one):
            return one.name, getattr(one.face, "value", None), getattr(one.spray_lands, "value", None)

        assert [told(one) for one in after] == [told(one) for one in before] and any(told(one)[2] is not None for one in after)
        (folder / f"site_data/surfaces.{end}").unlink()


def test_damaged_and_doubled_workbooks_are_told(folder):
    (folder / "site_data/coatings.xlsx").write_bytes(b"PK\x03\x04 no workbook")
    (folder / "site_data/surfaces.ods").write_bytes(ods(PLAIN))
    with pytest.raises(FactsError) as caught:
        load(folder)
    told = {one.path: str(one) for one in caught.value.problems}
    assert "opened" in told["site_data/coatings.xlsx"] and "surfaces.csv beside it" in told["site_data/surfaces.ods"], told


STRANGERS = ("coatings/mine.yml", "coatings/MINE.YAML", "coatings/Mine.Yml", "coatings/mine.csv", "coatings/new/mine.yaml", "kits/mine.yml", "kits/old/mine.yaml", "law/air.CSV", "law/air.yaml", "regions/xx.yml", "Coatings/mine.yaml",
             "limits.yml", "Limits.yaml", "LIMITS.YAML", "surfaces.CSV", "surfaces.tsv", "surface.csv", "solvents.xls", "coating.csv", "my-paints.yaml", "recipes/a.json", "paints/one.yaml", "own_cups/cup.txt")


def test_files_that_nothing_reads_are_told(folder):
    for name in STRANGERS:
        path = folder / "site_data" / name
        made = [parent for parent in path.parents if not parent.exists()]
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("name: x\n", encoding="utf-8")
        with pytest.raises(FactsError) as caught:
            load(folder)
        assert any(f"site_data/{name}".startswith(one.path) and one.mend for one in caught.value.problems), (name, [str(one) for one in caught.value.problems])
        path.unlink()
        for parent in made:
            parent.rmdir()
    (folder / "site_data/README.md").write_text("notes", encoding="utf-8")
    (folder / "site_data/coatings/.hidden.yml").write_text("x", encoding="utf-8")
    (folder / "site_data/coatings/gannet.yaml~").write_text("x", encoding="utf-8")
    load(folder)
