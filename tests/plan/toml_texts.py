"""Random TOML texts, written as untidily as people write them."""

from hypothesis import strategies as st

WORDS = st.sampled_from(["peel", "6 min", "a # b", "[x]", "{y}", "=,", "Käse", "", "it's"])
BARE = st.sampled_from(
    ["1", "-2.5", "true", "1e3", "0xff", "18:45:00", "2026-11-25", "1979-05-27 07:32:00", "inf"]
)
BLANK = st.sampled_from(["", " ", "\t", "  "])
COMMENT = st.sampled_from(["", "", ' # a "note" [with] {signs}', " #"])
KEYS = st.lists(
    st.sampled_from(["name", "time", "on", "prep", "do", "size", "a-b", "c_d"]),
    min_size=1, max_size=4, unique=True,
)  # fmt: skip


@st.composite
def strings(draw: st.DrawFn, *, newer: bool) -> str:
    word = draw(WORDS)
    style = draw(st.integers(0, 4 if newer else 3))
    basic = word.replace("\\", "\\\\")
    if style == 0 or "'" in word:
        return f'"{basic}"'
    if style == 1:
        return f"'{word}'"
    if style == 2:
        return f'"""\n{basic} "quoted"\n{basic}"""'
    if style == 3:
        return f"'''{word}\n\n{word}'''"
    return f'"{basic}\\e[0m\\x41"'


@st.composite
def lists(draw: st.DrawFn, depth: int, *, newer: bool) -> str:
    entries = draw(st.lists(values(depth + 1, newer=newer), max_size=3))
    if draw(st.booleans()):
        return f"[{draw(BLANK)}{', '.join(entries)}{draw(BLANK)}]"
    lines = "".join(f"\n{draw(BLANK)}{e}{draw(BLANK)},{draw(COMMENT)}" for e in entries)
    return f"[{draw(COMMENT)}{lines}\n{draw(BLANK)}]"


@st.composite
def braces(draw: st.DrawFn, depth: int, *, newer: bool) -> str:
    keys = draw(KEYS)
    pairs = [f"{k}{draw(BLANK)}={draw(BLANK)}{draw(values(depth + 1, newer=newer))}" for k in keys]
    if newer and draw(st.booleans()):
        last = draw(st.sampled_from(["", ","]))
        lines = ",".join(f"{draw(COMMENT)}\n {pair}" for pair in pairs)
        return f"{{{lines}{last}{draw(COMMENT)}\n}}"
    return f"{{{draw(BLANK)}{', '.join(pairs)}{draw(BLANK)}}}"


def values(depth: int, *, newer: bool) -> st.SearchStrategy[str]:
    """A value; `newer`: with what TOML 1.1 allows besides."""
    times = st.sampled_from(["07:32", "1979-05-27T07:32Z", "1979-05-27 07:32"])
    plain = st.one_of(strings(newer=newer), BARE, times if newer else BARE)
    if depth >= 3:
        return plain
    return st.one_of(
        plain,
        st.deferred(lambda: lists(depth, newer=newer)),
        st.deferred(lambda: braces(depth, newer=newer)),
    )


@st.composite
def _pairs(draw: st.DrawFn, *, newer: bool) -> str:
    out = ""
    for key in draw(KEYS):
        spelt = draw(st.sampled_from([key, f'"{key}"', f"x-{key}.deep"]))
        value = draw(values(0, newer=newer))
        out += f"{draw(BLANK)}{spelt}{draw(BLANK)}={draw(BLANK)}{value}{draw(COMMENT)}\n"
        out += draw(st.sampled_from(["", "\n", "# between\n", "  \n"]))
    return out


@st.composite
def texts(draw: st.DrawFn, *, newer: bool) -> str:
    """A whole text with headers in the order of a cook, which is none."""
    out = draw(_pairs(newer=newer)) if draw(st.booleans()) else ""
    headers = draw(st.lists(st.sampled_from(["[[appliance]]", "[[component]]"]), max_size=4))
    for header in headers:
        out += f"{draw(BLANK)}{header}{draw(COMMENT)}\n{draw(_pairs(newer=newer))}"
        if header == "[[appliance]]" and draw(st.booleans()):
            out += f"  [[appliance.stage]]\n{draw(_pairs(newer=newer))}"
    return out if draw(st.booleans()) else out.rstrip("\n")
