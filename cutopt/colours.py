"""The colour that a word says: hex numbers, the named colours of the web, and words that quilters use for cloth.

The named colours are those of W3C, CSS Color Module Level 4, section 6.1 (an open standard). The others are our own
eye: about what cloth sold under such a word looks like. Where both have a word (plum), that of cloth counts.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Final

_CSS: Final = """
aliceblue:f0f8ff antiquewhite:faebd7 aqua:00ffff aquamarine:7fffd4 azure:f0ffff beige:f5f5dc bisque:ffe4c4
black:000000 blanchedalmond:ffebcd blue:0000ff blueviolet:8a2be2 brown:a52a2a burlywood:deb887 cadetblue:5f9ea0
chartreuse:7fff00 chocolate:d2691e coral:ff7f50 cornflowerblue:6495ed cornsilk:fff8dc crimson:dc143c cyan:00ffff
darkblue:00008b darkcyan:008b8b darkgoldenrod:b8860b darkgray:a9a9a9 darkgreen:006400 darkgrey:a9a9a9
darkkhaki:bdb76b darkmagenta:8b008b darkolivegreen:556b2f darkorange:ff8c00 darkorchid:9932cc darkred:8b0000
darksalmon:e9967a darkseagreen:8fbc8f darkslateblue:483d8b darkslategray:2f4f4f darkslategrey:2f4f4f
darkturquoise:00ced1 darkviolet:9400d3 deeppink:ff1493 deepskyblue:00bfff dimgray:696969 dimgrey:696969
dodgerblue:1e90ff firebrick:b22222 floralwhite:fffaf0 forestgreen:228b22 fuchsia:ff00ff gainsboro:dcdcdc
ghostwhite:f8f8ff gold:ffd700 goldenrod:daa520 gray:808080 green:008000 greenyellow:adff2f grey:808080
honeydew:f0fff0 hotpink:ff69b4 indianred:cd5c5c indigo:4b0082 ivory:fffff0 khaki:f0e68c lavender:e6e6fa
lavenderblush:fff0f5 lawngreen:7cfc00 lemonchiffon:fffacd lightblue:add8e6 lightcoral:f08080 lightcyan:e0ffff
lightgoldenrodyellow:fafad2 lightgray:d3d3d3 lightgreen:90ee90 lightgrey:d3d3d3 lightpink:ffb6c1
lightsalmon:ffa07a lightseagreen:20b2aa lightskyblue:87cefa lightslategray:778899 lightslategrey:778899
lightsteelblue:b0c4de lightyellow:ffffe0 lime:00ff00 limegreen:32cd32 linen:faf0e6 magenta:ff00ff maroon:800000
mediumaquamarine:66cdaa mediumblue:0000cd mediumorchid:ba55d3 mediumpurple:9370db mediumseagreen:3cb371
mediumslateblue:7b68ee mediumspringgreen:00fa9a mediumturquoise:48d1cc mediumvioletred:c71585
midnightblue:191970 mintcream:f5fffa mistyrose:ffe4e1 moccasin:ffe4b5 navajowhite:ffdead navy:000080
oldlace:fdf5e6 olive:808000 olivedrab:6b8e23 orange:ffa500 orangered:ff4500 orchid:da70d6 palegoldenrod:eee8aa
palegreen:98fb98 paleturquoise:afeeee palevioletred:db7093 papayawhip:ffefd5 peachpuff:ffdab9 peru:cd853f
pink:ffc0cb plum:dda0dd powderblue:b0e0e6 purple:800080 rebeccapurple:663399 red:ff0000 rosybrown:bc8f8f
royalblue:4169e1 saddlebrown:8b4513 salmon:fa8072 sandybrown:f4a460 seagreen:2e8b57 seashell:fff5ee
sienna:a0522d silver:c0c0c0 skyblue:87ceeb slateblue:6a5acd slategray:708090 slategrey:708090 snow:fffafa
springgreen:00ff7f steelblue:4682b4 tan:d2b48c teal:008080 thistle:d8bfd8 tomato:ff6347 turquoise:40e0d0
violet:ee82ee wheat:f5deb3 white:ffffff whitesmoke:f5f5f5 yellow:ffff00 yellowgreen:9acd32
"""
_CLOTH: Final = """
almond:e8d8c0 apple:8db255 apricot:f2b37d ash:b6b5b0 aubergine:4b2a45 bark:6e4f3a berry:8a2b52 blossom:e3a3b2
blueberry:47597f blush:ecc8c3 brick:a0472f bronze:8c6a3c burgundy:6d1f33 butter:f5e2a0 caramel:b97f47 charcoal:43464b
cherry:b3203a chestnut:7c4532 cinnamon:a2603a clay:b5765a cloud:dfe3e6 cocoa:6b4a3a coffee:5c4033 copper:ad6640
cranberry:96203f cream:f4ead0 denim:4b6a8f dove:b9b7b2 ecru:d9cba8 eggplant:4b2a45 emerald:2f8a5b espresso:43302a
eucalyptus:8fa895 fern:5f8a4e flax:d9c79a forest:2f5a3a ginger:b8703a grape:5f3a70 graphite:4a4c50 grass:6a9a3f
heather:9a86a4 honey:d9a441 ink:26304a jade:4f9a7a leaf:5f8f45 lemon:f2dd5a lilac:bfa3cf marigold:e8a02c mauve:a7839a
midnight:1f2a48 mint:b5dcc3 mist:bccdd4 mocha:7d5f4b moss:72793f mulberry:6f2a4f mushroom:b5a597 muslin:ebe1cb
mustard:c9982b natural:ebe1cb oat:e5d7b5 ocean:2f6788 ochre:c08a33 oyster:dcd6c8 peach:f5c3a0 pear:a9b84f pearl:ece7de
periwinkle:8f97cf petrol:1f5563 pewter:8b8f92 pine:2c5545 plum:6b3a5b pumpkin:d5752b raspberry:b52a56 rose:d78a95
rust:a5502f saffron:e6a832 sage:a3b18f sand:d9c7a3 scarlet:c4232b seafoam:a8d5c5 shell:f0ddd2 sky:a5cbe6 slate:66727c
smoke:9a9c9c spruce:335a52 steel:7a8b99 stone:b8b0a2 storm:5f6b78 straw:dfc98a strawberry:d6445a sunflower:f0b92f
taupe:9a8878 terracotta:bd6a48 toffee:a06a3c vanilla:f3e5bd walnut:5f4532 wine:6d1f33 wisteria:a896c8
"""
_SAME: Final = {"pale": "light", "deep": "dark"}
_GREYS: Final = ("#bdbdbd", "#8f8f8f", "#e0e0e0", "#a6a6a6")


def _table(text: str) -> dict[str, str]:
    pairs = (entry.split(":") for entry in text.split())
    return {word: f"#{number}" for word, number in pairs}


NAMED: Final = _table(_CSS)
WORDS: Final = NAMED | _table(_CLOTH)


def said_colour(text: str) -> str:
    """The colour (hex, six figures) that a text says, "" where it says none: ``#abc``, ``light blue dots``."""
    number = re.fullmatch(r"\s*#([0-9a-fA-F]{3}|[0-9a-fA-F]{6})\s*", text)
    if number:
        figures = number[1].lower()
        if len(figures) == 3:
            figures = "".join(2 * figure for figure in figures)
        return f"#{figures}"
    words = [_SAME.get(word, word) for word in re.findall("[a-z]+", text.lower())]
    pairs = (first + second for first, second in pairwise(words))
    return next((WORDS[word] for word in (*pairs, *words) if word in WORDS), "")


def colour_of(colour: str, name: str, place: int = 0) -> str:
    """The colour of a fabric: its own, else the one that its name says, else a grey by its place among the fabrics.

    Parameters
    ----------
    colour : str
        What the maker says of its colour; "" for nothing.
    name : str
        Of the fabric.
    place : int
        Its place among the fabrics.
    """
    return said_colour(colour) or said_colour(name) or _GREYS[place % len(_GREYS)]


def is_told(colour: str, name: str) -> bool:
    """Whether anybody said of what colour a fabric is."""
    return bool(said_colour(colour) or said_colour(name))
