"""``python -m bonebench`` is the command ``bonebench``."""

from bonebench.program import main

if __name__ == "__main__":
    main()
