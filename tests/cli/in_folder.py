"""A test of the program in a folder of its own."""

import json
import os
import pathlib
import subprocess
import sys
import tempfile
import unittest

LANYARD = os.path.abspath(sys.argv[1]) if len(sys.argv) > 1 else "lanyard"


class InFolder(unittest.TestCase):
    maxDiff = None
    indent = 1  # of the models that are written

    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.path = pathlib.Path(self.folder.name)

    def tearDown(self):
        self.folder.cleanup()

    def write(self, name, content):
        if not isinstance(content, (bytes, str)):
            content = json.dumps(content, indent=self.indent)
        (self.path / name).write_bytes(content if isinstance(content, bytes) else content.encode())

    def outputs(self, *words, codes=(0,), timeout=600):
        """stdout and stderr, to the byte."""
        done = subprocess.run([LANYARD, *words], cwd=self.path, capture_output=True, timeout=timeout, check=False)
        out, err = done.stdout.decode(), done.stderr.decode()
        self.assertIn(done.returncode, codes, f"{words}\n{out}\n{err}")
        return out, err
