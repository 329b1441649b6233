"""What shows a search while it works, and what the commands say and start: thin, no logic of cutting.

`command_line.py` is to be opened first: the commands in words; what each does stands in :mod:`cutopt.cli`. `progress.py`
are views of a search, `first_time.py` waits for the kernels, `stopping.py` is about Ctrl-C, `telling.py` says how it
ended, `deliver.py` puts pages where they are found, `saved.py` reads them again. `workshop.py` lays out what is opened
in the browser, `lab.py` starts JupyterLab, `editor/` shows tables to be changed in a notebook.
"""
