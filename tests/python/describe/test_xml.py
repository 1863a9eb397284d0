from __future__ import annotations

from pathlib import Path

import pytest

from armwright.describe.xml import read_xml
from armwright.errors import InputError

BOMB = """<?xml version="1.0"?>
<!DOCTYPE robot [<!ENTITY a "aaaaaaaaaa">{}]>
<robot name="&z;"/>""".format(
    "".join(f'<!ENTITY {b} "{f"&{a};" * 10}">' for a, b in zip("abcdefghij", "bcdefghijz", strict=True))
)


def refused(path: Path, said: str, line: int | None = None) -> None:
    with pytest.raises(InputError, match=said) as caught:
        read_xml("file", path, 1000_000)
    assert caught.value.problems[0].file == str(path)
    assert caught.value.problems[0].line == line


def test_entity_bomb(tmp_path: Path) -> None:
    path = tmp_path / "bomb.urdf"
    path.write_text(BOMB)
    refused(path, "got <!DOCTYPE, expected no document type and no entities", 2)


def test_file_entities_and_wide_encodings(tmp_path: Path) -> None:
    path = tmp_path / "a.urdf"
    path.write_text('<!doctype r [<!ENTITY x SYSTEM "/etc/hostname">]><r>&x;</r>')
    refused(path, "no document type", 1)
    path.write_bytes(BOMB.replace('"1.0"', '"1.0" encoding="UTF-16"').encode("utf-16"))
    refused(path, "XML in UTF-8")
    path.write_bytes(
        b'<?xml version="1.0" encoding="UTF-7"?>' + "<!DOCTYPE r [<!ENTITY a 'b'>]><r>&a;</r>".encode("utf-7")
    )
    with pytest.raises(InputError):
        read_xml("file", path, 1000_000)


def test_broken_and_large(tmp_path: Path) -> None:
    path = tmp_path / "a.urdf"
    path.write_text("<robot>\n<link>\n</robot>")
    refused(path, "expected well-formed XML", 3)
    path.write_text("")
    with pytest.raises(InputError):
        read_xml("file", path, 1000)
    path.write_text("<a>" * 5000)
    with pytest.raises(InputError):
        read_xml("file", path, 1000_000)
    path.write_text("<r>" + " " * 1000_000 + "</r>")
    refused(path, "1000007 bytes, expected a file of at most 1000000 bytes")
    with pytest.raises(InputError, match="nothing: file: got No such file or directory, expected a file"):
        read_xml("file", tmp_path / "nothing", 1000)


def test_lines(tmp_path: Path) -> None:
    path = tmp_path / "a.urdf"
    path.write_text("<robot>\n<!-- words -->\n<link/></robot>")
    assert read_xml("file", path, 1000)[0].sourceline == 3
