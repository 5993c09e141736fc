"""The grammar of the language: `castlang.lark` is the only statement of the syntax."""
