from passbell.tui.typed import LONGEST, Typed


def typed(*keys: str) -> Typed:
    line = Typed()
    for key in keys:
        line = line.key(key, key if len(key) == 1 else None)
    return line


def test_typing_moving_and_deleting() -> None:
    assert typed("1", "5", "2").text == "152"
    assert typed("1", "2", "left", "5") == Typed("152", 2)
    assert typed("1", "5", "backspace", "6").text == "16"
    assert typed("1", "5", "home", "delete").text == "5"
    assert typed("a", "end", "b").text == "ab"
    assert typed("left", "right", "backspace", "f5") == Typed()


def test_a_blank_between_words_stays() -> None:
    assert Typed().insert("2").insert(" ").insert("151").text == "2 151"


def test_pasted_text_is_made_harmless_and_short() -> None:
    line = Typed().insert("chicken\n152\x1b[2J\x9b")
    assert line.text == "chicken 152[2J"
    assert len(Typed().insert("x" * 5000).text) == LONGEST
    assert len(Typed().insert("x" * 150).insert("y" * 150).text) == LONGEST


def test_control_characters_are_not_typed() -> None:
    assert Typed().key("ctrl+a", "\x01") == Typed()
