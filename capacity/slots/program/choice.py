"""What is chosen of a program: the one type that search and questions hand to each other."""

import numpy as np
from numpy.typing import NDArray

Choice = NDArray[np.int64]
"""The column of each check, shape (checks,); -1 for a check without one."""
