"""How long a search goes on, how it tells of itself, and what an unforeseen error leaves of it.

From a maker's limit (seconds or work) to questions that every loop asks: is it over, has somebody asked to stop?
Knows nothing of cloth. Open `stop.py` first; `progress.py` is what views override, `guard.py` keeps the plan
when something that comes on top of it fails, `interrupt.py` hears Ctrl-C.
"""
