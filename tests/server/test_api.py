"""What the page reads and writes over HTTP."""

from __future__ import annotations

import json
import os

import pytest

from tests.server.running import VEHICLE, running


@pytest.fixture
def entered(fresh):
    fresh.enter()
    return fresh


def test_the_project_is_read_as_it_is_on_the_disk(entered):
    status, headers, raw = entered.ask("GET", "/api/project")
    document = json.loads(raw)
    assert status == 200
    assert document == {
        "leverwright": 1,
        "name": "cart.toml",
        "text": VEHICLE,
        "revision": document["revision"],
    }
    assert headers["etag"] == f'"{document["revision"]}"'
    assert str(entered.file.parent) not in raw.decode()
    entered.file.write_text(VEHICLE + "# more\n")
    assert entered.json("GET", "/api/project")[1]["text"].endswith("# more\n")


def save(server, text, revision):
    return server.json("PUT", "/api/project", {"text": text}, If_Match=f'"{revision}"')


def revision_of(server):
    return server.json("GET", "/api/project")[1]["revision"]


def test_a_save_replaces_the_revision_that_it_names(entered):
    first = revision_of(entered)
    status, answer = save(entered, VEHICLE + "# one\n", first)
    assert status == 200
    assert entered.file.read_text() == VEHICLE + "# one\n"
    assert answer == {"leverwright": 1, "revision": revision_of(entered)}
    assert save(entered, VEHICLE + "# two\n", answer["revision"])[0] == 200


def test_what_another_program_wrote_is_not_overwritten(entered):
    first = revision_of(entered)
    entered.file.write_text("leverwright = 1\n# from the editor\n")
    status, answer = save(entered, VEHICLE, first)
    assert status == 409
    assert "changed" in answer["error"]["sentence"]
    assert entered.file.read_text() == "leverwright = 1\n# from the editor\n"


def test_a_second_page_that_saves_late_is_told(entered):
    first = revision_of(entered)
    assert save(entered, VEHICLE + "# page one\n", first)[0] == 200
    assert save(entered, VEHICLE + "# page two\n", first)[0] == 409
    assert entered.file.read_text() == VEHICLE + "# page one\n"


def test_a_save_names_one_revision_that_was_handed_out(entered):
    revision_of(entered)
    put = entered.json
    assert put("PUT", "/api/project", {"text": "x"})[0] == 428
    for tag in ('"0"', "*", 'W/"0"', '""', '"a", "b"', "0", '"', f'"{"0" * 64}"'):
        assert put("PUT", "/api/project", {"text": "x"}, If_Match=tag)[0] == 412, tag
    assert entered.file.read_text() == VEHICLE


def test_a_half_made_vehicle_is_saved_as_the_person_has_it(entered):
    assert save(entered, "leverwright = 1\n[points]\na = [0, 0]\n", revision_of(entered))[0] == 200
    assert entered.file.read_text() == "leverwright = 1\n[points]\na = [0, 0]\n"


def test_a_save_that_fails_says_so_and_changes_nothing(entered):
    first = revision_of(entered)
    os.link(entered.file, entered.file.with_name("second-name.toml"))
    status, answer = save(entered, VEHICLE + "#\n", first)
    assert status == 507
    assert "not saved" in answer["error"]["sentence"]
    assert entered.file.read_text() == VEHICLE


def test_a_file_that_is_not_there_is_begun_and_written_at_the_first_save(tmp_path):
    with running(tmp_path, text=None) as server:
        server.enter()
        document = server.json("GET", "/api/project")[1]
        assert (document["text"], document["revision"]) == ("", "")
        assert not server.file.exists()
        status, answer = save(server, VEHICLE, "")
        assert status == 200
        assert server.file.read_text() == VEHICLE
        assert save(server, "x", "")[0] == 409
        assert save(server, VEHICLE + "#\n", answer["revision"])[0] == 200


@pytest.mark.parametrize("kind", ["folder", "pipe", "device", "dead link", "too large", "not text"])
def test_something_else_in_place_of_the_file_is_refused_in_a_sentence(tmp_path, kind):
    path = tmp_path / "cart.toml"
    if kind == "folder":
        path.mkdir()
    elif kind == "pipe":
        os.mkfifo(path)
    elif kind == "device":
        path.symlink_to("/dev/zero")
    elif kind == "dead link":
        path.symlink_to(tmp_path / "gone")
    elif kind == "too large":
        path.write_bytes(b"#" * 1_000_001)
    else:
        path.write_bytes(b"\xff\xfe\x00")
    with running(tmp_path, text=None) as server:
        server.enter()
        status, answer = server.json("GET", "/api/project")
        assert status == 422
        assert answer["error"]["sentence"]


def test_kinds_of_vehicle_are_listed_and_made(server):
    kinds = server.json("GET", "/api/archetypes")[1]["archetypes"]
    assert len(kinds) >= 4
    for kind in kinds:
        asked = {m["key"]: m["default"] for m in kind["measurements"]}
        status, made = server.json("POST", "/api/archetype", {"id": kind["id"], "measurements": asked})
        assert status == 200, made
        assert "leverwright = 1" in made["text"]
    status, answer = server.json("POST", "/api/archetype", {"id": "no-such", "measurements": {}})
    assert status == 422
    status, answer = server.json(
        "POST",
        "/api/archetype",
        {"id": kind["id"], "measurements": {kind["measurements"][0]["key"]: "-3 mm"}},
    )
    assert status == 422
    assert answer["error"]["key"] == kind["measurements"][0]["key"]
    assert answer["error"]["sentence"].startswith(f"{answer['error']['key']}: ")  # not of the command line


def test_the_keys_of_the_file_are_listed(server):
    fields = server.json("GET", "/api/fields")[1]["fields"]
    assert {"table": "shocks", "key": "rate", "unit": "N/mm"}.items() <= next(
        f for f in fields if (f["table"], f["key"]) == ("shocks", "rate")
    ).items()


@pytest.mark.parametrize(
    "body",
    [
        "", "{", "[]", "null", "NaN", '"text"', '{"id": "x"}', '{"id": 1, "measurements": {}}',
        '{"id": "x", "measurements": {"a": NaN}}', '{"id": "x", "measurements": {"a": 1e999}}',
        '{"id": "x", "measurements": {}, "more": 1}', '{"id": "x", "measurements": {"a": ["b"]}}', "[" * 100_000,
        '{"id":' * 1000, '\ufeff{"id": "x", "measurements": {}}', '{"id": "\\ud800", "measurements": {}}',
    ],
)  # fmt: skip
def test_a_body_that_is_not_the_document_is_refused(server, body):
    raw = body.encode("utf-8")
    status, _, answer = server.ask("POST", "/api/archetype", body=raw)
    assert status == 400
    assert b"cannot be read" in answer
    assert answer.isascii()


@pytest.mark.parametrize(
    "path", ["/nothing", "/api", "/api/", "/api/project/", "/assets", "/assets/", "/index.html", "/api/live"]
)
def test_nothing_else_is_there(server, path):
    assert server.ask("GET", path)[0] == 404


def test_a_method_that_an_address_does_not_have_is_refused(server):
    assert server.ask("POST", "/api/project", body="{}")[0] == 405
    assert server.ask("PUT", "/api/archetype", body="{}")[0] == 405
    assert server.ask("POST", "/", body="{}")[0] == 405


FIVE = {"link_arm": "45 mm", "spring_arm": "90 mm", "load": "42 kg", "rate": "18 N/mm", "moves": "5 mm"}


def test_five_numbers_get_a_verdict(server):
    status, verdict = server.json("POST", "/api/quick", FIVE)
    assert status == 200
    assert verdict["verdict"]
    assert verdict["ratio"]["value"] == pytest.approx(2.0)  # 90 over 45
    inch = server.json("POST", "/api/quick", FIVE | {"units": "inch"})[1]
    assert "in" in inch["ratio_said"].split()
    unknown = server.json("POST", "/api/quick", FIVE | {"rate": None})[1]
    assert unknown["unsaid"]
    status, refusal = server.json("POST", "/api/quick", FIVE | {"load": "42 parsnips"})
    assert (status, refusal["error"]["key"]) == (422, "load")


def test_a_link_that_moves_less_than_the_wheel_is_counted(server):
    """By hand: S2's ratio 90/45 times 320/400 is 1.6."""
    verdict = server.json("POST", "/api/quick", FIVE | {"link_moves": "0.8"})[1]
    assert verdict["ratio"]["value"] == pytest.approx(1.6)
    assert server.json("POST", "/api/quick", FIVE | {"link_moves": " "})[1]["ratio"][
        "value"
    ] == pytest.approx(2)
    for refused in ("0", "320 mm", "far"):
        status, refusal = server.json("POST", "/api/quick", FIVE | {"link_moves": refused})
        assert (status, refusal["error"]["key"]) == (422, "link_moves")


@pytest.mark.parametrize("sheet", ["templates", "card", "trial", "setup", "measuring", "dxf", "svg"])
def test_a_sheet_is_handed_out_as_a_file(server, sheet):
    body = json.dumps({"text": VEHICLE, "sheet": sheet, "paper": "Letter"})
    status, headers, raw = server.ask("POST", "/api/make", body=body)
    assert status == 200, raw
    assert headers["content-disposition"].startswith('attachment; filename="cart-of-the-tests-invented-')
    start = {"dxf": b"  0", "svg": b"<"}.get(sheet, b"%PDF-")
    assert raw.startswith(start)


def test_a_sheet_of_a_half_made_vehicle_is_refused(server):
    status, answer = server.json("POST", "/api/make", {"text": "leverwright = 1\n", "sheet": "card"})
    assert status == 422
    assert answer["error"]["sentence"]
    assert server.json("POST", "/api/make", {"text": VEHICLE, "sheet": "origami"})[0] == 400


def test_cards_with_blanks_are_handed_out_for_a_half_made_vehicle(server):
    body = json.dumps({"text": "leverwright = 1\n", "sheet": "measuring"})
    status, headers, raw = server.ask("POST", "/api/make", body=body)
    assert (status, raw[:5]) == (200, b"%PDF-")
    assert 'filename="vehicle-measuring-cards.pdf"' in headers["content-disposition"]


def test_a_title_that_would_split_a_header_is_only_text(server):
    text = VEHICLE.replace("Cart of the tests, invented", 'x\\r\\nSet-Cookie: a=b\\"; ../../etc/\\u202e')
    status, headers, _ = server.ask("POST", "/api/make", body=json.dumps({"text": text, "sheet": "svg"}))
    assert status == 200
    assert "set-cookie" not in headers
    assert "/" not in headers["content-disposition"]


def test_a_sheet_takes_the_holes_and_the_reading_of_the_bar_as_typed(server):
    plain = {"text": VEHICLE, "sheet": "svg"}
    drilled = plain | {"hole": "10 mm", "holes": {"link-hole-left": "3/8 in", "spring-hole-left": " "}}

    def made(wanted):
        return server.ask("POST", "/api/make", body=json.dumps(wanted))[2]

    assert made(plain) != made(drilled)
    pages = plain | {"sheet": "templates"}
    assert made(pages) != made(pages | {"bar_across": "194 mm", "bar_up": "7 5/8 in"})
    for key, typed in (("hole", "10 parsnips"), ("bar_across", "nan"), ("bar_up", "x" * 300)):
        status, answer = server.json("POST", "/api/make", pages | {key: typed})
        assert (status, answer["error"]["key"]) == (422, key)
    assert server.json("POST", "/api/make", pages | {"bar_across": "150 mm"})[0] == 422
    assert server.json("POST", "/api/make", pages | {"hole": "300 mm"})[0] == 422
