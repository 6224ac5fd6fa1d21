"""Finds the places of a C++ file where a single mistake can be made, with libclang."""

import re
from dataclasses import dataclass

import clang.cindex as clang
from clang.cindex import CursorKind as Kind
from clang.cindex import TypeKind

clang.Config.set_library_file("/usr/lib/llvm-16/lib/libclang.so.1")

# What each operator is mistaken for.
OPERATORS = {
    "<": ["<=", ">"],
    "<=": ["<", ">="],
    ">": [">=", "<"],
    ">=": [">", "<="],
    "==": ["!="],
    "!=": ["=="],
    "&&": ["||"],
    "||": ["&&"],
    "+": ["-"],
    "-": ["+"],
    "*": ["/"],
    "/": ["*"],
    "%": ["/"],
    "&": ["|"],
    "|": ["&"],
    "^": ["|"],
    "<<": [">>"],
    ">>": ["<<"],
    "+=": ["-="],
    "-=": ["+="],
    "*=": ["/="],
    "/=": ["*="],
    "|=": ["&="],
    "&=": ["|="],
}
TERMS = {"&&", "||", "+", "&", "|"}  # either side can be left out
LOGICAL = {"&&", "||"}
NAMES = {
    "min": "max",
    "max": "min",
    "min_element": "max_element",
    "max_element": "min_element",
    "any_of": "all_of",
    "all_of": "any_of",
    "none_of": "any_of",
    "lower_bound": "upper_bound",
    "upper_bound": "lower_bound",
    "floor": "ceil",
    "ceil": "floor",
    "front": "back",
    "back": "front",
    "sin": "cos",
    "cos": "sin",
}
CONDITIONAL = {Kind.IF_STMT, Kind.WHILE_STMT, Kind.CONDITIONAL_OPERATOR}
LOOPS = {Kind.FOR_STMT, Kind.WHILE_STMT, Kind.DO_STMT, Kind.CXX_FOR_RANGE_STMT}
FUNCTIONS = {
    Kind.FUNCTION_DECL,
    Kind.CXX_METHOD,
    Kind.CONSTRUCTOR,
    Kind.DESTRUCTOR,
    Kind.CONVERSION_FUNCTION,
    Kind.FUNCTION_TEMPLATE,
}
STATEMENTS = {
    Kind.CALL_EXPR,
    Kind.BINARY_OPERATOR,
    Kind.COMPOUND_ASSIGNMENT_OPERATOR,
    Kind.UNARY_OPERATOR,
    Kind.UNEXPOSED_EXPR,
}
LITERALS = {
    Kind.INTEGER_LITERAL,
    Kind.FLOATING_LITERAL,
    Kind.CXX_BOOL_LITERAL_EXPR,
    Kind.CXX_NULL_PTR_LITERAL_EXPR,
}

# How a mistake is switched on: ORIGINAL stands for what is there, with its own switches.
EXPRESSION = "(panup_mutant({number}) ? ({mistake}) : (ORIGINAL))"
FLIP = "(static_cast<bool>(ORIGINAL) != panup_mutant({number}))"
DROP = "if (!panup_mutant({number})) {{ ORIGINAL }}"
DROP_BLOCK = "if (!panup_mutant({number})) ORIGINAL"
INSTEAD = "if (panup_mutant({number})) {mistake} else ORIGINAL"
OUTER_FIRST = [INSTEAD, DROP, DROP_BLOCK, FLIP, EXPRESSION]


@dataclass
class Mistake:
    start: int  # bytes from the beginning of the file
    end: int
    switch: str
    kind: str
    function: str
    line: int
    original: str
    mistake: str  # as the code would be with it
    code: str  # the same as it is compiled
    number: int = -1


def one_line(code):
    """Code without comments, on one line."""
    pieces = re.split(r'(R"\(.*?\)"|"(?:\\.|[^"\\])*"|\'(?:\\.|[^\'\\])+\'|//[^\n]*|/\*.*?\*/)',
                      code, flags=re.DOTALL)
    out = ""
    for place, piece in enumerate(pieces):
        if place % 2 == 1 and not piece.startswith("/"):
            out += piece
            continue
        piece = " " if place % 2 == 1 else re.sub(r"\s+", " ", piece)
        out += piece[1:] if out.endswith(" ") and piece.startswith(" ") else piece
    return out.strip()


class Finder:
    def __init__(self, path, name, arguments):
        self.text = open(path, "rb").read()
        self.path = path
        self.name = name
        self.mistakes = {}
        unit = clang.Index.create().parse(path, args=arguments)
        self.errors = [str(d) for d in unit.diagnostics if d.severity >= clang.Diagnostic.Error]
        for cursor in unit.cursor.get_children():
            if cursor.extent.start.file and cursor.extent.start.file.name == path:
                self.walk(cursor, [], "")

    # Text of the file.

    def code(self, start, end):
        return self.text[start:end].decode()

    def of(self, cursor):
        return self.code(cursor.extent.start.offset, cursor.extent.end.offset)

    def add(self, cursor, switch, kind, mistake, code=None, start=None, end=None):
        start = cursor.extent.start.offset if start is None else start
        end = cursor.extent.end.offset if end is None else end
        original = self.code(start, end)
        if end <= start or re.search(r"^\s*#", original, re.MULTILINE):
            return
        mistake = one_line(mistake)
        key = (start, end, mistake)
        if key not in self.mistakes:
            line = self.text.count(b"\n", 0, start) + 1
            self.mistakes[key] = Mistake(start, end, switch, kind, self.function, line,
                                         one_line(original), mistake,
                                         one_line(mistake if code is None else code))

    def in_file(self, cursor):
        place = cursor.extent.start
        return place.file is not None and place.file.name == self.path

    # The walk. `last`: nothing of a function that returns a value comes after this statement.

    def walk(self, cursor, above, function, last=False):
        if not self.in_file(cursor) or self.is_constant(cursor):
            return
        if cursor.kind in FUNCTIONS:
            parent = cursor.semantic_parent
            owner = parent.spelling + "::" if parent is not None and parent.kind in {
                Kind.CLASS_DECL, Kind.STRUCT_DECL} else ""
            function = owner + cursor.spelling
        self.function = function or "(outside functions)"
        children = list(cursor.get_children())
        self.look_at(cursor, children, above, last)
        above = above + [cursor]
        for place, child in enumerate(children):
            if cursor.kind == Kind.CASE_STMT and place == 0:
                continue
            self.function = function or "(outside functions)"
            self.walk(child, above, function,
                      self.is_last(cursor, child, place == len(children) - 1, last))

    def is_constant(self, cursor):
        if cursor.kind in {Kind.STATIC_ASSERT, Kind.ENUM_DECL, Kind.USING_DECLARATION,
                           Kind.TYPE_ALIAS_DECL, Kind.TYPEDEF_DECL}:
            return True
        if cursor.kind in FUNCTIONS or cursor.kind == Kind.VAR_DECL:
            head = re.split(r"[={(]", self.of(cursor), maxsplit=1)[0]
            return re.search(r"\b(constexpr|consteval)\b", head) is not None
        return False

    @staticmethod
    def is_last(cursor, child, is_final, last):
        if cursor.kind in FUNCTIONS:
            return child.kind == Kind.COMPOUND_STMT and cursor.result_type.kind != TypeKind.VOID
        if cursor.kind == Kind.LAMBDA_EXPR:
            return child.kind == Kind.COMPOUND_STMT
        if cursor.kind == Kind.COMPOUND_STMT:
            return last and is_final
        if cursor.kind in {Kind.IF_STMT, Kind.CASE_STMT, Kind.DEFAULT_STMT}:
            return last
        # All of a switch at the end: after one case nothing comes but the next.
        return last and cursor.kind == Kind.SWITCH_STMT

    def look_at(self, cursor, children, above, last):
        parent = above[-1].kind if above else None
        if self.stands_alone(cursor, above):
            self.look_at_statement(cursor, children, above, last)
        if cursor.kind in CONDITIONAL and children:
            self.look_at_condition(cursor, children)
        if len(children) >= 2 and not cursor.kind.is_statement():
            self.look_at_operator(cursor, children)
        if cursor.kind == Kind.UNARY_OPERATOR:
            self.look_at_sign(cursor)
        if cursor.kind == Kind.CALL_EXPR and children:
            self.look_at_name(cursor, children)
        if cursor.kind in LITERALS:
            self.look_at_literal(cursor)
        if cursor.kind == Kind.DECL_REF_EXPR:
            self.look_at_enumerator(cursor)
        if parent == Kind.INIT_LIST_EXPR and children and children[0].kind == Kind.MEMBER_REF:
            self.look_at_field(cursor, children)

    # Statements.

    @staticmethod
    def stands_alone(cursor, above):
        if not above:
            return False
        if above[-1].kind == Kind.COMPOUND_STMT:
            return True
        return above[-1].kind in {Kind.CASE_STMT, Kind.DEFAULT_STMT} and not (
            cursor.kind == Kind.COMPOUND_STMT)

    def look_at_statement(self, cursor, children, above, last):
        if cursor.kind == Kind.IF_STMT:
            if not re.search(r"\belse\b", self.after_condition(children)):
                self.add(cursor, DROP_BLOCK, "statement dropped", "(dropped)")
            return
        if cursor.kind in {Kind.FOR_STMT, Kind.CXX_FOR_RANGE_STMT}:
            self.add(cursor, DROP_BLOCK, "statement dropped", "(dropped)")
            return
        rest = re.match(rb"\s*;", self.text[cursor.extent.end.offset:])
        if rest is None:
            return
        end = cursor.extent.end.offset + rest.end()
        if cursor.kind in {Kind.CONTINUE_STMT, Kind.BREAK_STMT}:
            self.add(cursor, DROP_BLOCK, "jump dropped", "(dropped)", end=end)
            inner = next((a.kind for a in reversed(above)
                          if a.kind in LOOPS or a.kind == Kind.SWITCH_STMT), None)
            if inner in LOOPS:
                other = "break;" if cursor.kind == Kind.CONTINUE_STMT else "continue;"
                self.add(cursor, INSTEAD, "jump changed", other, end=end)
        elif cursor.kind == Kind.RETURN_STMT:
            final = above[-1].kind == Kind.COMPOUND_STMT and len(above) > 1 and (
                above[-2].kind in FUNCTIONS | {Kind.LAMBDA_EXPR}) and (
                    list(above[-1].get_children())[-1] == cursor)
            if not last and not final:
                self.add(cursor, DROP_BLOCK, "return dropped", "(dropped)", end=end)
        elif cursor.kind in STATEMENTS:
            self.add(cursor, DROP, "statement dropped", "(dropped)", end=end)

    def after_condition(self, children):
        """Of an if statement: what comes after the block that is taken."""
        blocks = [child for child in children if child.kind.is_statement()]
        bodies = [b for b in blocks if b.kind == Kind.COMPOUND_STMT] or blocks
        return "else" if len(bodies) > 1 or (
            blocks and blocks[-1].kind == Kind.IF_STMT and len(blocks) > 1) else ""

    # Expressions.

    def look_at_condition(self, cursor, children):
        conditions = [c for c in children if not c.kind.is_statement()
                      and c.kind != Kind.VAR_DECL]
        if not conditions:
            return
        declared = [c for c in children if c.kind == Kind.VAR_DECL]
        condition = conditions[0]
        if any(d.extent.start.offset <= condition.extent.start.offset < d.extent.end.offset
               for d in declared):
            return  # `if (const auto* x = ...)`: left out as a statement
        text = self.of(condition)
        if not text.startswith("!") and (
                self.operator_of(condition, self.operands(condition)) is None):
            self.add(condition, FLIP, "condition flipped", f"!({text})")

    def operands(self, cursor):
        """Through what stands for no code of its own."""
        children = list(cursor.get_children())
        while len(children) == 1 and (cursor.kind != Kind.UNARY_OPERATOR
                                      or self.of(cursor).startswith("!=")):
            cursor = children[0]
            children = list(cursor.get_children())
        return children

    def operator_of(self, cursor, children):
        if len(children) < 2:
            return None
        left, right = children[0], children[-1]
        if not (self.in_file(left) and self.in_file(right)):
            return None
        if right.extent.end.offset != cursor.extent.end.offset or (
                left.extent.start.offset != cursor.extent.start.offset):
            return None
        between = one_line(self.code(left.extent.end.offset, right.extent.start.offset))
        return between if between in OPERATORS else None

    def look_at_operator(self, cursor, children):
        operator = self.operator_of(cursor, children)
        if operator is None:
            return
        left, right = self.of(children[0]), self.of(children[-1])
        # A C++20 comparison may have its sides turned round by the compiler: the text counts.
        text = "basic_string" in cursor.type.get_canonical().spelling
        logical = operator in LOGICAL

        def add(kind, mistake):
            code = f"static_cast<bool>({mistake})" if logical else mistake
            self.add(cursor, EXPRESSION, kind, mistake, code)

        if not text:
            for other in OPERATORS[operator]:
                add("operator changed", f"{left} {other} {right}"
                    if operator not in LOGICAL else f"({left}) {other} ({right})")
        if operator in TERMS or operator == "-":
            add("term dropped", left)
        if operator in TERMS:
            inner = self.operator_of(children[0], self.operands(children[0]))
            if inner != operator:
                add("term dropped", right)

    def look_at_sign(self, cursor):
        text = self.of(cursor)
        if text[:1] == "!" and text[:2] != "!=":
            self.add(cursor, EXPRESSION, "sign dropped", text[1:], f"static_cast<bool>({text[1:]})")
        elif text[:1] == "~" or (text[:1] == "-" and text[:2] != "--"):
            self.add(cursor, EXPRESSION, "sign dropped", text[1:])

    def look_at_name(self, cursor, children):
        callee = children[0]
        end = callee.extent.end.offset
        name = re.search(r"(\w+)$", self.of(callee))
        if name is None or callee.extent.start.offset != cursor.extent.start.offset:
            return
        rest = self.code(end, cursor.extent.end.offset)
        before = self.of(callee)[:name.start()]
        if name[1] in NAMES and rest.lstrip().startswith("("):
            self.add(cursor, EXPRESSION, "name changed", before + NAMES[name[1]] + rest)
        elif name[1] == "abs" and rest.lstrip().startswith("("):
            self.add(cursor, EXPRESSION, "name dropped", rest)

    def look_at_literal(self, cursor):
        text = self.of(cursor)
        if text in {"true", "false"}:
            other = "false" if text == "true" else "true"
        elif number := re.fullmatch(r"([0-9']+)([uUlLzZ]*)", text):
            value = int(number[1].replace("'", ""))
            other = f"{value + 1}{number[2]}"
        elif number := re.fullmatch(r"([0-9'.]+(?:[eE][-+]?[0-9]+)?)([fFlL]?)", text):
            value = float(number[1].replace("'", ""))
            other = f"{value * 1.1 if value else 1.0!r}{number[2]}"
        else:
            return
        self.add(cursor, EXPRESSION, "constant changed", other)

    def look_at_enumerator(self, cursor):
        meant = cursor.referenced
        if meant is None or meant.kind != Kind.ENUM_CONSTANT_DECL:
            return
        all_of_them = [c for c in meant.semantic_parent.get_children()
                       if c.kind == Kind.ENUM_CONSTANT_DECL]
        if len(all_of_them) < 2:
            return
        next_one = all_of_them[(all_of_them.index(meant) + 1) % len(all_of_them)].spelling
        text = self.of(cursor)
        if text.endswith(meant.spelling):
            self.add(cursor, EXPRESSION, "constant changed",
                     text[:len(text) - len(meant.spelling)] + next_one)

    def look_at_field(self, cursor, children):
        value = children[-1]
        text = self.of(value)
        field = children[0].referenced
        if len(children) < 2 or field is None or text[:1] == "{" or value.kind in LITERALS:
            return
        if field.type.kind in {TypeKind.LVALUEREFERENCE, TypeKind.RVALUEREFERENCE}:
            return
        owner, name = field.semantic_parent, ""
        while owner is not None and owner.kind != Kind.TRANSLATION_UNIT:
            if owner.kind not in {Kind.NAMESPACE, Kind.STRUCT_DECL, Kind.CLASS_DECL}:
                return  # a struct of one function has no name outside
            if owner.spelling and not owner.is_anonymous():
                name = owner.spelling + ("::" + name if name else "")
            owner = owner.semantic_parent
        has_default = "=" in source_of(field)
        left_out = f"{name}{{}}.{field.spelling}" if has_default else (
            f"decltype({name}::{field.spelling}){{}}")
        # The place alone: the value has mistakes of its own.
        self.add(value, EXPRESSION, "field left out", f".{field.spelling} left out", left_out)


def source_of(cursor):
    extent = cursor.extent
    with open(extent.start.file.name, "rb") as file:
        return file.read()[extent.start.offset:extent.end.offset].decode()


def find_mistakes(path, name, arguments):
    """All mistakes of a file in the order of its text, numbered; and what clang could not read."""
    finder = Finder(path, name, arguments)
    found = sorted(finder.mistakes.values(), key=lambda m: (m.start, -m.end, m.kind, m.mistake))
    seen = {}
    for mistake in found:
        key = (mistake.function, mistake.original, mistake.mistake)
        seen[key] = seen.get(key, 0) + 1
        if seen[key] > 1:
            mistake.mistake += f" [place {seen[key]}]"
    for number, mistake in enumerate(found):
        mistake.number = number
    return found, finder.errors
