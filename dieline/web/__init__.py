"""The live preview: a small web server that draws a job, and the page that shows it, folds it and explains it.

The server is a thin shell over ``pipeline.run``. Each draw is done by a worker process, so that a style that hangs,
dies or asks for too much memory harms no page; the server itself loads nothing of the drawing code.
"""
