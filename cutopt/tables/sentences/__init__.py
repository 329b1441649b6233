"""What a maker says, taken apart word by word: nothing is passed over.

The grammar of every sentence of quilt.toml, in full::

    sentence = [names ":"] words            (what may stand among the words is the vocabulary of the part)
    names    = name {"and" name}
    words    = count, kind, size, options, rules and cloths in any order, commas between them or not
    count    = 12 | twelve | a | a dozen
    size     = ["of"] length {"x" length} ["finished" | "unfinished" | "cut"]        (also 2 + 1 + 2)
    cloths   = "from" cloth {"and" cloth}   (one for each kind of patch; it ends at a comma)
    cloth    = word {"|" word}              (a fabric, a tag, "any", in order of preference; "or" will do)
             | "any" [word] "but" word {"or" word}
             | cloth ["in" | "for" | "on"] places | places ["from" | "in" | "is"] cloth      (blocks and articles)
    places   = place {"and" place}          (what a kind calls the places of its cloths: corners, background, lining)
    shares   = share cloths "and" share cloths      share = half | a third | a quarter | 10 | the rest
             | 10 "each" cloth {"and" cloth} | "half" cloth "half" cloth        (of a block of several its two fabrics)
    mixture  = ("mixed" | "scrappy" | "alternating") [cloths]
    rules    = upright | grain along | grain across | nice | if left | together WORD | at most N each
    name     = any words; in quotes where it has words or signs of this grammar: "sun and moon"

`taking_apart.py` is to be opened first: it makes a `Said` (`said.py`) of a sentence, by what a `vocabulary.py` declares.
`tokens.py` cuts the text into words, `aliases.py` is the one table of other ways to say a thing (with
`names_of_articles.py`; `small_talk.py` and `talk.py` of what says nothing), `words.py` holds them while they are taken:
phrases (`patterns.py`, their `ways.py`), sizes and counts (`numbers.py`, `sizes.py`), fabrics beside what they are for
(`places.py`, `beside.py`), with shares (`shares.py`, `one_each.py`), and others (`clothing.py` which words, `cloths.py` what they
mean, `dealing.py` what each is for) and their rules (`rules.py`). A word that nobody takes is told (`mends.py`),
and a kind that nobody knows (`unknown_kinds.py`).
"""
