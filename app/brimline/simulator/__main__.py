"""``python -m brimline.simulator``: a simulated vehicle on a serial port."""

import sys

from brimline.simulator.program import main

sys.exit(main())
