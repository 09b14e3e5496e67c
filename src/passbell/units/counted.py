"""One egg, two eggs: the things a kitchen counts, in the number their amount asks for.

Only nouns of this list change, so that no word is bent that we do not know; whatever else is
counted, and every other language, stays as it was typed.
"""

import re

_REGULAR = """
    almond anchovy apple apricot artichoke aubergine avocado bagel baguette banana beetroot berry
    biscuit breast bulb bun burger cabbage cake carrot cauliflower cherry chestnut chicken chop
    clove cob cookie courgette crab cracker crumpet cube cucumber cutlet date drumstick duck
    duckling dumpling ear egg eggplant endive escalope fig fillet flatbread floret gherkin ham
    joint kidney kipper knuckle lamb leek leg lemon lettuce lime lobster lychee mackerel marrow
    meatball medallion muffin mushroom mussel nectarine nest noisette olive onion orange oyster
    pancake papaya parsnip patty pea peach pear pepper pheasant pickle pigeon pineapple pitta plum
    poussin prawn pumpkin quail rabbit rack radish rasher rib roast roll root sardine sausage
    scallion scallop shallot shank sheet shrimp skewer slice sprig sprout squash stalk steak stem
    stick strawberry swede tart tenderloin thigh tortilla trout turnip walnut wedge wing wrap yam
    yolk
"""
_IRREGULAR = {
    "half": "halves", "leaf": "leaves", "loaf": "loaves", "mango": "mangoes", "potato": "potatoes",
    "tomato": "tomatoes", "chilli": "chillies", "chili": "chilies", "white": "whites",
}  # fmt: skip
_SAME = frozenset(("mackerel", "trout", "shrimp"))
"""Two of them are as often written like one."""

_ENDS = re.compile(
    r"[,;:(\[–]|\s(?:of|in|on|with|without|from|for|cut|per|each|about|as|at|to|-)\s", re.IGNORECASE
)
_JOINED = re.compile(r"(\s(?:or|and)\s)", re.IGNORECASE)
_DONE_TO_IT = re.compile(r"[^e]ed$", re.IGNORECASE)
_COUNTED_ITSELF = re.compile(r"[^s]s$|^dozen$", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")


def plural(word: str) -> str:
    """More than one of what follows the rule: "cups", "pinches", "berries"."""
    if word.endswith("y"):
        return f"{word[:-1]}ies" if word[-2] not in "aeiou" else f"{word}s"
    return f"{word}es" if word.endswith(("ch", "sh", "s", "x")) else f"{word}s"


_MANY = {w: plural(w) for w in _REGULAR.split() if w not in _SAME} | _IRREGULAR
_ONE = {many: one for one, many in _MANY.items()}


def in_number(thing: str, *, many: bool) -> str:
    """What is counted, its noun in the number that fits; as typed where we do not know the noun.

    Args:
        thing: what stands after the number ("chicken thighs, bone in").
        many: whether there is more than one of it.
    """
    end = _ENDS.search(thing)
    head = thing[: end.start()] if end else thing
    parts = [_noun_in_number(part, _MANY if many else _ONE) for part in _JOINED.split(head)]
    return "".join(parts) + thing[len(head) :]


def _noun_in_number(part: str, forms: dict[str, str]) -> str:
    """The last word, or the one before a closing "peeled", "halved", is the noun.

    Of "boxes eggs" and "dozen eggs" the boxes and the dozens are what is counted.
    """
    words = list(_WORD.finditer(part))
    while len(words) > 1 and _DONE_TO_IT.search(words[-1][0]):
        words.pop()
    noun = words.pop() if words else None
    form = forms.get(noun[0].lower()) if noun else None
    if noun is None or form is None or any(_COUNTED_ITSELF.search(word[0]) for word in words):
        return part
    if noun[0][0].isupper():
        form = form.upper() if noun[0].isupper() and len(noun[0]) > 1 else form.capitalize()
    return part[: noun.start()] + form + part[noun.end() :]
