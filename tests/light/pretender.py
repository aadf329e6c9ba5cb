"""The other end of a terminal, which a test lets answer as it likes."""

import os
import pty
import select
import threading


class Pretender:
    """Hears what is written to the terminal `inner`, and gives each answer once when it is asked."""

    def __init__(self, answers):
        self.outer, self.inner = pty.openpty()
        self._answers = dict(answers)
        self.heard = ""
        self._is_open = True
        self._thread = threading.Thread(target=self._listen)
        self._thread.start()

    def _listen(self):
        while self._is_open:
            if select.select([self.outer], [], [], 0.02)[0]:
                self.heard += os.read(self.outer, 4096).decode()
            for asked in [asked for asked in self._answers if asked in self.heard]:
                os.write(self.outer, self._answers.pop(asked).encode())

    def close(self):
        self._is_open = False
        self._thread.join()
        os.close(self.outer)
        os.close(self.inner)
