"""Texts that people, or their keyboards, might type."""

HOSTILE = (
    '<script>alert("x")</script>',
    "Smith & Sons' \"bay\" <3 ]]> &amp; &lt;",
    '#read("/etc/passwd")',
    "*bold* _under_ = heading `code` $ x^2 $ @ref <label> // gone",
    "#import \"@preview/x:1.0.0\"",
    "\u202eright to left\u202c \u2066isolated\u2069",
    "nul\x00bell\x07escape\x1b",
    "door \U0001f6aa \U0001f468\u200d\U0001f469\u200d\U0001f467",
    "北门卷帘 مدخل הכניסה",
    "x" * 2000,
    "one word " * 220,
    "line\nbreak\r\nand\ttab\u2028and\u2029more",
    "\ud800 alone, \ufffe, \U0010ffff, \ue000",
    "{braces} {0} {site} %s %(x)s \\",
)  # fmt: skip
