"""The screens of the window, one module or folder each."""
