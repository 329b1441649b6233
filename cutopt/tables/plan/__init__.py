"""A plan as files: JSON that reads back to the same plan, and two lists for the maker.

`plan_file.py` is to be opened first; `entries.py` reads the entries of its lists, `json_nodes.py` a file key by key,
telling what is wrong with it, `older_files.py` what older files leave open. `cut_list.py` and `shopping_list.py` are
the lists, `list_text.py` their text.
"""
