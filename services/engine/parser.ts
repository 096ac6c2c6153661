/** Reads expressions, selectors and templates. Total: bounded in length and depth, and every text gives a tree or a fault. */
import type { Ast, BinaryOp, SelectorAst, TemplateAst } from './ast.ts';
import type { Report } from './diagnostics.ts';
import { type Token, tokenize } from './lexer.ts';
import type { Span } from './source.ts';
import type { YamlText } from './yaml-reader.ts';

const LONGEST = 2000;
const DEEPEST = 48;
const FOLDS: ReadonlySet<string> = new Set(['sum', 'count', 'min', 'max', 'every', 'some']);
const WORDS: ReadonlySet<string> = new Set(['and', 'or', 'not', 'within', 'of', 'for', 'in', 'at', 'where', 'yes', 'no']);

export const isReserved = (name: string): boolean => WORDS.has(name) || FOLDS.has(name);

/** Binding strength, weakest first; comparisons do not chain. */
const STRENGTH: Readonly<Record<string, number>> = {
  or: 1,
  and: 2,
  '>=': 4,
  '<=': 4,
  '>': 4,
  '<': 4,
  '==': 4,
  '!=': 4,
  within: 4,
  '+': 5,
  '-': 5,
  '*': 6,
  '/': 6,
  '^': 8,
};
const NOT = 3;
const NEGATE = 7;
const COMPARISON = 4;

class SyntaxFault extends Error {}

export function parseExpression(text: YamlText, report: Report): Ast | undefined {
  return guarded(text, report, (parser) => parser.whole(() => parser.expression(0)));
}

export function parseSelector(text: YamlText, report: Report): SelectorAst | undefined {
  return guarded(text, report, (parser) => parser.whole(() => parser.selector()));
}

function guarded<T>(text: YamlText, report: Report, read: (parser: Parser) => T): T | undefined {
  if (text.text.length > LONGEST)
    return report.add('RULE_TOO_LARGE', text.part(0, 1), `the expression is over ${LONGEST} characters`, 'split it with `let`');
  try {
    return read(new Parser(text, report));
  } catch (error) {
    if (error instanceof SyntaxFault) return undefined;
    throw error;
  }
}

class Parser {
  readonly #text: YamlText;
  readonly #report: Report;
  readonly #tokens: readonly Token[];
  #at = 0;
  #depth = 0;

  constructor(text: YamlText, report: Report) {
    this.#text = text;
    this.#report = report;
    this.#tokens = tokenize(text.text);
  }

  whole<T>(read: () => T): T {
    const tree = read();
    const rest = this.#peek();
    if (rest.is === 'end') return tree;
    throw this.#fault(
      rest,
      this.#chains(rest) ? 'comparisons do not chain' : `\`${rest.text}\` is not expected here`,
      this.#chains(rest) ? 'join two comparisons with `and`' : 'an operator, or the end of the expression, is expected',
    );
  }

  #chains(token: Token): boolean {
    return STRENGTH[token.text] === COMPARISON;
  }

  #peek(): Token {
    return this.#tokens[this.#at] as Token;
  }

  #next(): Token {
    const token = this.#peek();
    if (token.is !== 'end') this.#at++;
    return token;
  }

  #takes(text: string): boolean {
    const token = this.#peek();
    if (token.text !== text || (token.is !== 'sign' && token.is !== 'name')) return false;
    this.#at++;
    return true;
  }

  #expect(text: string, after: string): Token {
    const token = this.#peek();
    if (this.#takes(text)) return token;
    throw this.#fault(token, `\`${text}\` is expected ${after}${token.is === 'end' ? '' : `, not \`${token.text}\``}`, `write \`${text}\``);
  }

  #fault(token: Token, message: string, help: string): SyntaxFault {
    this.#report.add('RULE_SYNTAX', this.#text.part(token.start, Math.max(token.end, token.start + 1)), message, help);
    return new SyntaxFault();
  }

  #span(start: number): Span {
    const end = this.#tokens[this.#at - 1]?.end ?? start + 1;
    return this.#text.part(start, end);
  }

  #name(what: string): Token {
    const token = this.#peek();
    if (token.is !== 'name' || isReserved(token.text))
      throw this.#fault(
        token,
        token.is === 'end' ? `${what} is missing` : `\`${token.text}\` cannot be ${what}`,
        `write ${what}, in snake_case`,
      );
    return this.#next();
  }

  expression(least: number): Ast {
    if (++this.#depth > DEEPEST) {
      this.#report.add(
        'RULE_TOO_LARGE',
        this.#text.part(this.#peek().start, this.#peek().start + 1),
        `the expression is nested more than ${DEEPEST} deep`,
        'split it with `let`',
      );
      throw new SyntaxFault();
    }
    const start = this.#peek().start;
    let left = this.#prefix(start);
    for (;;) {
      const token = this.#peek();
      const strength = token.is === 'sign' || token.is === 'name' ? STRENGTH[token.text] : undefined;
      if (strength === undefined || strength <= least) break;
      this.#next();
      left = token.text === 'within' ? this.#within(left, start) : this.#binary(left, token, strength, start);
      if (strength === COMPARISON && this.#chains(this.#peek())) break;
    }
    this.#depth--;
    return left;
  }

  #binary(a: Ast, token: Token, strength: number, start: number): Ast {
    const b = this.expression(strength);
    return { is: 'binary', op: token.text as BinaryOp, opSpan: this.#text.part(token.start, token.end), a, b, span: this.#span(start) };
  }

  #within(a: Ast, start: number): Ast {
    const tolerance = this.expression(COMPARISON);
    this.#expect('of', 'after the tolerance');
    const b = this.expression(COMPARISON);
    return { is: 'within', a, tolerance, b, span: this.#span(start) };
  }

  #prefix(start: number): Ast {
    if (this.#takes('-')) {
      const a = this.expression(NEGATE);
      return { is: 'negate', a, span: this.#span(start) };
    }
    if (this.#takes('not')) {
      const a = this.expression(NOT);
      return { is: 'not', a, span: this.#span(start) };
    }
    let left = this.#primary();
    while (this.#takes('.')) {
      const token = this.#peek();
      if (token.is !== 'name') throw this.#fault(token, 'an attribute is expected after the dot', 'write `part.attribute`');
      this.#next();
      left = { is: 'member', of: left, name: token.text, nameSpan: this.#text.part(token.start, token.end), span: this.#span(start) };
    }
    return left;
  }

  #primary(): Ast {
    const token = this.#next();
    const span = (): Span => this.#span(token.start);
    if (token.is === 'number') return this.#quantity(token);
    if (token.is === 'text') return { is: 'text', value: token.text, span: span() };
    if (token.text === '(' && token.is === 'sign') {
      const inner = this.expression(0);
      this.#expect(')', 'to close the bracket');
      return inner;
    }
    if (token.is === 'name' && (token.text === 'yes' || token.text === 'no'))
      return { is: 'truth', value: token.text === 'yes', span: span() };
    if (token.is === 'name' && this.#peek().text === '(' && (FOLDS.has(token.text) || !isReserved(token.text))) return this.#call(token);
    if (token.is === 'name' && !isReserved(token.text)) return { is: 'name', name: token.text, span: span() };
    if (token.is === 'end') throw this.#fault(token, 'the expression ends too early', 'a number, a name or a bracket is expected');
    throw this.#fault(
      token,
      `\`${token.text}\` is not expected here`,
      token.text === '"' ? "texts go in single quotes: `'conical'`" : 'a number, a name or a bracket is expected',
    );
  }

  #quantity(token: Token): Ast {
    const unit = token.unit === undefined ? {} : { unit: token.unit };
    if (!this.#takes('±')) return { is: 'quantity', number: token.number as number, ...unit, span: this.#span(token.start) };
    const tolerance = this.#next();
    if (tolerance.is !== 'number')
      throw this.#fault(tolerance, 'a tolerance is expected after `±`', 'write a number, such as `25 mm ± 5 mm`');
    const plusMinus = { number: tolerance.number as number, ...(tolerance.unit === undefined ? unit : { unit: tolerance.unit }) };
    return { is: 'quantity', number: token.number as number, ...unit, plusMinus, span: this.#span(token.start) };
  }

  #call(token: Token): Ast {
    this.#expect('(', `after \`${token.text}\``);
    const nameSpan = this.#text.part(token.start, token.end);
    if (FOLDS.has(token.text) && this.#binderAhead()) return this.#fold(token, nameSpan, undefined);
    const args: Ast[] = [];
    if (this.#peek().text !== ')') {
      do args.push(this.expression(0));
      while (this.#takes(','));
    }
    if (FOLDS.has(token.text) && args.length === 1 && this.#takes('for')) return this.#fold(token, nameSpan, args[0]);
    this.#expect(')', `to close \`${token.text}(\``);
    return { is: 'call', name: token.text, nameSpan, args, span: this.#span(token.start) };
  }

  /** `count(p in …)`: a name, then `in`. */
  #binderAhead(): boolean {
    return this.#peek().is === 'name' && this.#tokens[this.#at + 1]?.text === 'in';
  }

  #fold(token: Token, howSpan: Span, body: Ast | undefined): Ast {
    const binder = this.#name('a name for the part');
    this.#expect('in', `after \`${binder.text}\``);
    const over = this.selector();
    this.#expect(')', `to close \`${token.text}(\``);
    return {
      is: 'fold',
      how: token.text,
      howSpan,
      ...(body && { body }),
      binder: binder.text,
      binderSpan: this.#text.part(binder.start, binder.end),
      over,
      span: this.#span(token.start),
    };
  }

  selector(): SelectorAst {
    const kind = this.#name('a kind');
    const at = this.#takes('at') ? this.#prefix(this.#peek().start) : undefined;
    const where = this.#takes('where') ? this.expression(0) : undefined;
    return {
      kind: kind.text,
      kindSpan: this.#text.part(kind.start, kind.end),
      ...(at && { at }),
      ...(where && { where }),
      span: this.#span(kind.start),
    };
  }
}

/** Splits a template into words and holes: `{hose} is {shortfall: mm} short`. */
export function parseTemplate(text: YamlText, report: Report): readonly TemplateAst[] | undefined {
  const pieces: TemplateAst[] = [];
  let at = 0;
  while (at < text.text.length) {
    const open = text.text.indexOf('{', at);
    const words = text.text.slice(at, open < 0 ? undefined : open);
    if (words !== '') pieces.push({ is: 'words', words });
    if (open < 0) break;
    const close = text.text.indexOf('}', open);
    if (close < 0)
      return report.add('RULE_SYNTAX', text.part(open, open + 1), '`{` is not closed', 'write `{name}` or `{expression: unit}`');
    const hole = readHole(text, open + 1, close, report);
    if (!hole) return undefined;
    pieces.push(hole);
    at = close + 1;
  }
  return pieces;
}

function readHole(text: YamlText, start: number, end: number, report: Report): TemplateAst | undefined {
  const colon = text.text.slice(start, end).lastIndexOf(':');
  const stop = colon < 0 ? end : start + colon;
  const of = parseExpression(inner(text, start, stop), report);
  if (!of) return undefined;
  if (colon < 0) return { is: 'hole', of };
  const [unit = '', words] = text.text
    .slice(stop + 1, end)
    .split(',')
    .map((piece) => piece.trim());
  const unitStart = stop + 1 + text.text.slice(stop + 1, end).indexOf(unit);
  const unitSpan = text.part(unitStart, unitStart + Math.max(1, unit.length));
  if (words === undefined) return { is: 'hole', of, unit, unitSpan };
  const [positive = '', negative = '', ...more] = words.split('|').map((word) => word.trim());
  if (positive === '' || negative === '' || more.length > 0)
    return report.add('RULE_SYNTAX', text.part(stop + 1, end), 'two words go with a sign', 'write `{expression: unit, higher|lower}`');
  return { is: 'hole', of, unit, unitSpan, turns: [positive, negative] };
}

const inner = (text: YamlText, start: number, end: number): YamlText => ({
  is: 'text',
  text: text.text.slice(start, end),
  span: text.part(start, Math.max(end, start + 1)),
  part: (from, to) => text.part(start + from, start + to),
});
