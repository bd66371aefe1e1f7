"""Pictures to landmarks: files, people, points, sticks.

An adapter room: it implements the picture port of :mod:`wellset.services.ports`
(:class:`wellset.vision.reader.Reader`). Nothing below the services imports it.
"""
