"""Notes of sources in words: by how they are known, practice never as a text that was read."""

from aquacalc import tables
from aquacalc.sentences import trail
from aquacalc.tables import Cited
from aquacalc.words import Reader

READER = Reader()


def test_a_note_says_how_each_key_is_known():
    cited = [Cited("FA16:2", "read"), Cited("EPA13", "practice"), Cited("TRADE", "practice")]
    assert trail.note(cited, READER) == "Sources: FA16:2 (read); common practice or our choice, after EPA13."


def test_practice_and_own_reckoning_name_no_text():
    assert trail.note([Cited("TRADE", "practice")], READER) == "Sources: common practice."
    assert trail.note([Cited("OWN", "computed")], READER) == "Sources: our own reckoning."
    assert trail.note([], READER) == ""
    assert trail.keys([Cited("TRADE", "practice"), Cited("OWN", "computed")]) == []


def test_texts_name_two_authors_and_of_more_the_first():
    sources = tables.load("sources")
    assert trail.text(sources.row("BENKRA84"), READER).startswith("BENKRA84: Benson and Krause 1984. The ")
    assert trail.text(sources.row("EMER75"), READER).startswith("EMER75: Emerson and others 1975. Aqueous ")
    assert trail.text(sources.row("KROUPOVA08"), READER).startswith("KROUPOVA08: Kroupova")
    assert all(trail.text(row, READER).startswith(f"{row.key}: ") for row in sources)


def test_a_long_title_is_cut_between_words_where_room_is_short():
    row = tables.load("sources").row("EMER75")
    assert (
        trail.text(row, READER, 30) == "EMER75: Emerson and others 1975. Aqueous ammonia equilibrium \u2026"
    )
    assert trail.text(row, READER, 500) == trail.text(row, READER)


def test_every_text_that_a_note_names_is_listed():
    cited = [Cited("FAO589:T3.1", "memory"), Cited("FAO589:8.1", "read")]
    (listed,) = trail.texts(cited, READER)
    assert listed.startswith("FAO589: Somerville and others 2014. ")
