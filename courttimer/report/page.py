"""The frame of every page that we write as HTML: one file that needs nothing else, readable on a phone, printed on paper."""

from html import escape

INK, SOFT, PALE, EDGE, PAPER, BAR = "#000000", "#4a4a4a", "#e8e8e8", "#767676", "#ffffff", "#1f4e79"
"""Text is ink or soft on paper or pale, or paper on ink: 7 to 1 at the least; edges and bars carry no text."""

STYLE = f"""
:root {{ color-scheme: light; }}
* {{ box-sizing: border-box; }}
body {{ margin: 0 auto; padding: 1rem; max-width: 60rem; color: {INK}; background: {PAPER};
  font-family: Roboto, "Helvetica Neue", Arial, "Noto Sans", sans-serif; line-height: 1.35; }}
h1, h2, p, ul, dl, dd {{ margin: 0; padding: 0; }}
small, .soft {{ color: {SOFT}; }}
@media print {{ body {{ padding: 0; max-width: none; }} @page {{ margin: 8mm; }} }}
"""


def page(title: str, style: str, body: str) -> str:
    """A whole document (WHATWG HTML, The HTML Standard, section 13.1: writing documents); `body` is HTML, `title` is text."""
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width, initial-scale=1">\n<title>{text(title)}</title>\n'
        f"<style>{STYLE}{style}</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )


def text(words: str) -> str:
    """Words as they stand between tags and in attributes; what HTML cannot hold is left out."""
    return escape("".join(letter for letter in words if letter in "\t\n" or (ord(letter) >= 32 and not 127 <= ord(letter) < 160)))


def tag(name: str, words: str, *, of: str = "") -> str:
    """One element that holds words; `of` is its class."""
    return around(name, text(words), of=of)


def around(name: str, inside: str, *, of: str = "") -> str:
    """One element around HTML."""
    begin = f'<{name} class="{of}">' if of else f"<{name}>"
    return f"{begin}{inside}</{name}>"
