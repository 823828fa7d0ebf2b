"""The safety sheet of the room: only what the steps of this book use. Local rules and trained people always come first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bookplates.book.record import Plan
from bookplates.handout.steps import steps
from bookplates.handout.tools import spoken


@dataclass(frozen=True, slots=True)
class Rule:
    """What is to be seen to about one kind of danger."""

    title: str
    sentences: tuple[str, ...]


FIRST = Rule(
    "Before anybody begins",
    (
        "Your local rules, and what people trained on the tools say, come before everything on this sheet.",
        "Know who gives first aid, and where the first aid kit is: have it at hand, open to reach.",
        "Clear the floor and the tables. Bags and coats stand away from where people walk.",
        "See that there is good light, and a place to stand for each of those who cut or pierce.",
        "Show each tool once before it is handed out, and how it is put down.",
        "Tie back long hair and loose sleeves.",
    ),
)

RULES: tuple[tuple[tuple[str, ...], Rule], ...] = (
    (
        (" cut ", " slit ", " trim "),
        Rule(
            "Knives",
            (
                "Count knives and blades out and in.",
                "Cut along a metal safety rule on a cutting mat, with many light strokes, the other hand behind the blade.",
                "Use a fresh blade: a blunt one slips. Only an adult changes blades.",
                "Used blades go into a sharps tin at once, never into a bin.",
                "A knife is put down closed, away from the edge of the table. It is never handed on open.",
                "Boards, and fore-edges of whole sections, are cut by an adult.",
            ),
        ),
    ),
    (
        (" cut ", " trim "),
        Rule(
            "Guillotine and board shear",
            (
                "Only someone trained on it uses it, alone, with its guards in place.",
                "Nobody else stands within reach. It is locked when it is not in use.",
            ),
        ),
    ),
    (
        (" awl", " prick", " pierce"),
        Rule(
            "Awls",
            (
                "Count awls out and in.",
                "Never push an awl towards a hand: work in a cradle, on foam, or on a waste board.",
                "The cork is on the point whenever the awl is down or is carried.",
            ),
        ),
    ),
    (
        (" drill",),
        Rule(
            "Drill",
            (
                "Only someone trained on it drills, with goggles on, hair and sleeves tied back.",
                "The work is clamped down on a waste board. No hand holds it.",
            ),
        ),
    ),
    (
        (" needle",),
        Rule(
            "Needles",
            (
                "Count needles out and in. Look for a missing one before anybody sits down, with a magnet if there is one.",
                "Pull the needle away from faces. Sit so far apart that no elbow meets a neighbour's needle.",
                "Pull a stuck needle with pliers, never with the teeth. Never wrap the thread round fingers to pull it.",
                "A needle that is not in use sticks in a piece of foam or a cork.",
            ),
        ),
    ),
    (
        (" adhesive ", " glue", " paste"),
        Rule(
            "Adhesive",
            (
                "Have the maker's safety sheet in the room, and keep to it. Ask who has an allergy.",
                "Open a window or see that there is fresh air. No spray, and nothing with a solvent.",
                "Keep adhesive in small dishes that do not tip over. No eating or drinking at the tables.",
                "Wash hands afterwards. Wipe up what is spilt at once: a wet floor is slippery.",
            ),
        ),
    ),
    (
        (" weight", " press "),
        Rule(
            "Presses and weights",
            (
                "Weights lie flat, low, and away from the edge of the table; nobody stacks them.",
                "Keep fingers out from between boards while a press is closed. Carry heavy weights in pairs.",
            ),
        ),
    ),
)
"""Each with the words of the steps that call for it."""


def rules(plan: Plan) -> tuple[Rule, ...]:
    """What is to be seen to, the general things first."""
    said = spoken(steps(plan)[2:])
    return (FIRST, *(rule for words, rule in RULES if any(word in said for word in words)))


COUNTED = {"Knives": "knives", "Awls": "awls", "Needles": "needles"}


def counted(plan: Plan) -> Iterator[str]:
    """What is counted out and in, in the order of the rules; of blades and needles nobody may lose one."""
    titles = {rule.title for rule in rules(plan)}
    for title, what in COUNTED.items():
        if title in titles:
            yield what
            if what == "knives":
                yield "spare blades"
