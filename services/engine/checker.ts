/**
 * From what the author wrote to the checked tree: names are resolved, dimensions settled, negation pushed down to the
 * comparisons, and comparisons of minima, maxima and absolute values split, so that each atom is smooth where it can be.
 */
import { ANGLE, type Dimension, describe, divide, findUnit, fromUnit, fromUnitDelta, multiply, NONE, power } from '../units/index.ts';
import type { Ast, SelectorAst, TemplateAst } from './ast.ts';
import { joined, splitComparison, textOf } from './comparison.ts';
import { type Report, suggest } from './diagnostics.ts';
import { FUNCTIONS } from './functions.ts';
import { ANYTHING, type Interval, intervalOf, NOT_NEGATIVE, type Ranges, settled } from './interval.ts';
import type { Span } from './source.ts';
import type {
  Attribute,
  Fold,
  Function1,
  Kind,
  Leaf,
  Num,
  Quantity,
  Scope,
  Selector,
  Signature,
  SubjectRef,
  SubjectType,
  TemplatePiece,
  TextRef,
  Truth,
  Type,
} from './tree.ts';

export interface Vocabulary {
  readonly kinds: ReadonlyMap<string, Kind>;
  readonly quantities: ReadonlyMap<string, Quantity>;
  /** Places by name, with a hyphen. */
  readonly places: ReadonlyMap<string, 'vehicle' | 'axle' | 'corner'>;
}

export type Checked =
  | { readonly is: 'number'; readonly num: Num }
  | { readonly is: 'truth'; readonly truth: Truth }
  | { readonly is: 'text'; readonly ref: TextRef; readonly oneOf?: readonly string[] }
  | { readonly is: 'subject'; readonly ref: SubjectRef; readonly of: SubjectType };

type Local =
  | { readonly is: 'given'; readonly num: Num }
  | { readonly is: 'let'; readonly ast: Ast }
  | { readonly is: 'parameter'; readonly type: Type };

interface Binder {
  readonly index: number;
  readonly of: SubjectType;
  readonly level: number;
}

const MOST_NODES = 4000;
const MOST_NESTED_FOLDS = 2;

class ScopeBuilder {
  readonly leaves: Leaf[] = [];
  readonly folds: Fold[] = [];
  readonly #byKey = new Map<string, number>();

  leaf(leaf: Leaf): number {
    const key = JSON.stringify([leaf.name, leaf.subjects]);
    const known = this.#byKey.get(key);
    if (known !== undefined) return known;
    this.leaves.push(leaf);
    this.#byKey.set(key, this.leaves.length - 1);
    return this.leaves.length - 1;
  }

  fold(fold: Fold): number {
    this.folds.push(fold);
    return this.folds.length - 1;
  }
}

export class Checker {
  readonly #vocabulary: Vocabulary;
  readonly #report: Report;
  readonly #levels: ScopeBuilder[] = [new ScopeBuilder()];
  readonly #binders = new Map<string, Binder>();
  readonly #locals = new Map<string, Local>();
  readonly used = new Set<string>();
  #nodes = 0;

  constructor(vocabulary: Vocabulary, report: Report) {
    this.#vocabulary = vocabulary;
    this.#report = report;
  }

  /** The scope filled so far; read it once everything is checked. */
  get scope(): Scope {
    const [rule] = this.#levels;
    return { leaves: rule?.leaves ?? [], folds: rule?.folds ?? [] };
  }

  bind(name: string, of: SubjectType): void {
    this.#binders.set(name, { index: this.#binders.size, of, level: this.#levels.length - 1 });
  }

  define(name: string, local: Local): void {
    this.#locals.set(name, local);
  }

  has(name: string): boolean {
    return this.#binders.has(name) || this.#locals.has(name);
  }

  number(ast: Ast, expected?: Dimension): Num | undefined {
    const checked = this.check(ast, expected);
    if (checked === undefined || checked.is === 'number') return checked?.num;
    return this.#report.add(
      'RULE_TYPE',
      ast.span,
      `this is ${A[checked.is]}, and a number is expected`,
      'write a number, a quantity or an attribute that is one',
    );
  }

  /** A number of that dimension. */
  numberOf(ast: Ast, expected: Dimension): Num | undefined {
    const num = this.number(ast, expected);
    if (!num || num.dimension === expected) return num;
    return this.#report.add(
      'RULE_DIMENSION',
      ast.span,
      `this is ${describe(num.dimension)}, and ${describe(expected)} is expected`,
      'give it in a unit of that dimension',
    );
  }

  truth(ast: Ast): Truth | undefined {
    const checked = this.check(ast);
    if (checked === undefined || checked.is === 'truth') return checked?.truth;
    return this.#report.add('RULE_TYPE', ast.span, `this is ${A[checked.is]}, and a comparison is expected`, 'compare it: `a >= b`');
  }

  subject(ast: Ast, expected: SubjectType): SubjectRef | undefined {
    const checked = this.check(ast);
    if (checked === undefined) return undefined;
    const wanted = this.#subjectName(expected);
    if (checked.is !== 'subject')
      return this.#report.add('RULE_TYPE', ast.span, `this is ${A[checked.is]}, and ${wanted} is expected`, `name ${wanted}`);
    if (this.#fits(checked.of, expected)) return checked.ref;
    return this.#report.add(
      'RULE_TYPE',
      ast.span,
      `this is ${this.#subjectName(checked.of)}, and ${wanted} is expected`,
      this.#stepHelp(checked.of, expected, ast, wanted),
    );
  }

  #stepHelp(from: SubjectType, to: SubjectType, ast: Ast, wanted: string): string {
    const steps = to.is === 'axle' || to.is === 'corner';
    return steps && from.is !== 'vehicle' && from.is !== 'axle' ? `write \`${textOf(ast.span)}.${to.is}\`` : `name ${wanted}`;
  }

  #subjectName(of: SubjectType): string {
    if (of.is === 'part') return `a ${this.#vocabulary.kinds.get(of.kind)?.title.toLowerCase() ?? of.kind}`;
    return of.is === 'axle' ? 'an axle' : `a ${of.is}`;
  }

  #fits(actual: SubjectType, expected: SubjectType): boolean {
    if (actual.is !== 'part' || expected.is !== 'part') return actual.is === expected.is;
    return this.#lineage(actual.kind).some(({ id }) => id === expected.kind);
  }

  #lineage(kind: string): Kind[] {
    const line: Kind[] = [];
    for (
      let at = this.#vocabulary.kinds.get(kind);
      at && !line.includes(at);
      at = at.is === undefined ? undefined : this.#vocabulary.kinds.get(at.is)
    )
      line.push(at);
    return line;
  }

  check(ast: Ast, expected?: Dimension): Checked | undefined {
    if (++this.#nodes > MOST_NODES)
      return this.#report.add(
        'RULE_TOO_LARGE',
        ast.span,
        `the rule is over ${MOST_NODES} steps once its \`let\`s are put in`,
        'simplify it',
      );
    switch (ast.is) {
      case 'quantity':
        return asNumber(this.#literal(ast, expected));
      case 'text':
        return { is: 'text', ref: { is: 'literal', value: ast.value } };
      case 'truth':
        return { is: 'truth', truth: { op: 'always', value: ast.value, span: ast.span } };
      case 'name':
        return this.#name(ast, expected);
      case 'member':
        return this.#member(ast);
      case 'call':
        return this.#call(ast, expected);
      case 'fold':
        return this.#fold(ast, expected);
      case 'negate': {
        const a = this.number(ast.a, expected);
        return a && asNumber({ op: 'negate', a, dimension: a.dimension, span: ast.span });
      }
      case 'not': {
        const truth = this.truth(ast.a);
        return truth && { is: 'truth', truth: this.#negated(truth) };
      }
      case 'within':
        return this.#within(ast);
      case 'binary':
        return this.#binary(ast, expected);
    }
  }

  #literal(ast: Extract<Ast, { is: 'quantity' }>, expected: Dimension | undefined): Num | undefined {
    const unit = findUnit(ast.unit ?? '1', expected);
    if (!unit)
      return this.#report.add(
        'RULE_UNIT',
        ast.span,
        `there is no unit \`${ast.unit}\``,
        'use mm, in, kg, lb, N, kPa, deg, A, V and others',
      );
    const value = fromUnit(ast.number, unit);
    const constant = { op: 'constant', value, plusMinus: 0, dimension: unit.dimension, span: ast.span } as const;
    if (!ast.plusMinus) return constant;
    const tolerance = findUnit(ast.plusMinus.unit ?? '1', unit.dimension);
    if (tolerance?.symbol === '%' && unit.dimension !== NONE)
      return { ...constant, plusMinus: Math.abs(value) * (ast.plusMinus.number / 100) };
    if (!tolerance || tolerance.dimension !== unit.dimension)
      return this.#report.add(
        'RULE_DIMENSION',
        ast.span,
        'the tolerance is of another dimension than the value',
        `give it in ${unit.symbol}`,
      );
    return { ...constant, plusMinus: fromUnitDelta(ast.plusMinus.number, tolerance) };
  }

  #name(ast: Extract<Ast, { is: 'name' }>, expected: Dimension | undefined): Checked | undefined {
    const { name, span } = ast;
    const binder = this.#binders.get(name);
    if (binder) {
      this.used.add(name);
      return { is: 'subject', ref: { is: 'binder', index: binder.index }, of: binder.of };
    }
    const local = this.#locals.get(name);
    if (local) return this.#local(name, local, span, expected);
    const place = this.#vocabulary.places.get(name.replaceAll('_', '-'));
    if (place) return { is: 'subject', ref: { is: 'place', place: name.replaceAll('_', '-') }, of: { is: place } };
    const quantity = this.#vocabulary.quantities.get(name);
    if (quantity) return this.#quantity(quantity, [], span, span);
    return this.#report.add(
      'RULE_UNKNOWN_NAME',
      span,
      `there is no \`${name}\` here`,
      suggest(name, [...this.#binders.keys(), ...this.#locals.keys(), ...this.#vocabulary.quantities.keys()]),
    );
  }

  #local(name: string, local: Local, span: Span, expected: Dimension | undefined): Checked | undefined {
    this.used.add(name);
    if (local.is === 'given') return asNumber({ op: 'local', name, a: local.num, dimension: local.num.dimension, span });
    if (local.is === 'let') {
      // Checked anew where it is used, since a fold stands deeper than the rule.
      const num = this.number(local.ast, expected);
      return num && asNumber({ op: 'local', name, a: num, dimension: num.dimension, span });
    }
    if (local.type.is === 'number') return asNumber({ op: 'parameter', name, dimension: local.type.dimension, span });
    return this.#report.add('RULE_TYPE', span, `\`${name}\` cannot be used here`, 'only amounts and parts can');
  }

  #member(ast: Extract<Ast, { is: 'member' }>): Checked | undefined {
    const of = this.check(ast.of);
    if (!of) return undefined;
    if (of.is !== 'subject')
      return this.#report.add(
        'RULE_TYPE',
        ast.of.span,
        `this is ${A[of.is]} and has no attributes`,
        'a dot goes between a part and its attribute',
      );
    if (ast.name === 'axle' || ast.name === 'corner') return this.#step(ast, of, ast.name);
    if (of.of.is !== 'part')
      return this.#report.add(
        'RULE_TYPE',
        ast.nameSpan,
        `${this.#subjectName(of.of)} has no attributes`,
        `write a quantity of it: \`${ast.name}(${textOf(ast.of.span)})\``,
      );
    for (const kind of this.#lineage(of.of.kind)) {
      const attribute = kind.attributes.get(ast.name);
      if (attribute) return this.#leaf(`${kind.id}.${ast.name}`, attribute, [of.ref], ast.span);
    }
    const names = this.#lineage(of.of.kind).flatMap((kind) => [...kind.attributes.keys()]);
    return this.#report.add(
      'RULE_UNKNOWN_NAME',
      ast.nameSpan,
      `${this.#subjectName(of.of)} has no \`${ast.name}\``,
      suggest(ast.name, names),
    );
  }

  #step(ast: Extract<Ast, { is: 'member' }>, { ref, of }: Extract<Checked, { is: 'subject' }>, to: 'axle' | 'corner'): Checked | undefined {
    const fits = of.is === 'part' ? this.#vocabulary.kinds.get(of.kind)?.fits : of.is;
    if (fits === 'corner' || (fits === 'axle' && to === 'axle')) return { is: 'subject', ref: { is: 'step', of: ref, to }, of: { is: to } };
    return this.#report.add(
      'RULE_TYPE',
      ast.nameSpan,
      `${this.#subjectName(of)} is not at ${to === 'axle' ? 'an axle' : 'a corner'}`,
      'use a place such as `front`',
    );
  }

  #quantity(quantity: Quantity, args: readonly Ast[], nameSpan: Span, span: Span): Checked | undefined {
    this.used.add(quantity.name);
    if (args.length !== quantity.per.length) {
      const wanted = quantity.per.map((of) => this.#subjectName(of)).join(' and ') || 'nothing: it is of the vehicle';
      return this.#report.add(
        'RULE_TYPE',
        nameSpan,
        `\`${quantity.name}\` is of ${wanted}`,
        `write \`${quantity.name}${quantity.per.length > 0 ? `(${quantity.per.map((of) => (of.is === 'part' ? of.kind : of.is)).join(', ')})` : ''}\``,
      );
    }
    const subjects = args.map((arg, i) => this.subject(arg, quantity.per[i] as SubjectType));
    return subjects.every((subject) => subject !== undefined) ? this.#leaf(quantity.name, quantity, subjects, span) : undefined;
  }

  /** Enters a leaf in the outermost scope that has all its binders. */
  #leaf(name: string, { type }: Signature | Attribute, subjects: readonly SubjectRef[], span: Span): Checked {
    const level = Math.max(0, ...subjects.map((ref) => this.#levelOf(ref)));
    const leaf = (this.#levels[level] as ScopeBuilder).leaf({ name, subjects, type, span, text: textOf(span) });
    const depth = this.#levels.length - 1 - level;
    if (type.is === 'truth') return { is: 'truth', truth: { op: 'truth-leaf', leaf, depth, negated: false, span, text: textOf(span) } };
    if (type.is === 'text') return { is: 'text', ref: { is: 'leaf', leaf, depth }, ...(type.oneOf && { oneOf: type.oneOf }) };
    return { is: 'number', num: { op: 'leaf', leaf, depth, dimension: type.is === 'number' ? type.dimension : NONE, span } };
  }

  #levelOf(ref: SubjectRef): number {
    if (ref.is === 'place') return 0;
    if (ref.is === 'step') return this.#levelOf(ref.of);
    return [...this.#binders.values()].find(({ index }) => index === ref.index)?.level ?? 0;
  }

  #call(ast: Extract<Ast, { is: 'call' }>, expected: Dimension | undefined): Checked | undefined {
    const quantity = this.#vocabulary.quantities.get(ast.name);
    if (quantity) return this.#quantity(quantity, ast.args, ast.nameSpan, ast.span);
    if (ast.name === 'min' || ast.name === 'max') return asNumber(this.#extreme(ast, ast.name, expected));
    if (ast.name === 'atan2') return asNumber(this.#atan2(ast));
    const known = FUNCTIONS[ast.name as Function1];
    if (!known)
      return this.#report.add(
        'RULE_UNKNOWN_NAME',
        ast.nameSpan,
        `there is no quantity or function \`${ast.name}\``,
        suggest(ast.name, [
          ...this.#vocabulary.quantities.keys(),
          ...Object.keys(FUNCTIONS),
          'min',
          'max',
          'atan2',
          'sum',
          'count',
          'every',
          'some',
        ]),
      );
    const [arg] = ast.args;
    if (!arg || ast.args.length > 1)
      return this.#report.add('RULE_TYPE', ast.nameSpan, `\`${ast.name}\` takes one number`, `write \`${ast.name}(x)\``);
    const a = this.number(arg, known.takes);
    if (!a) return undefined;
    if (known.takes && a.dimension !== known.takes)
      return this.#report.add(
        'RULE_DIMENSION',
        arg.span,
        `\`${ast.name}\` takes ${describe(known.takes)}, and this is ${describe(a.dimension)}`,
        known.takes === ANGLE ? 'give an angle, such as `3 deg`' : 'divide by something of the same dimension',
      );
    const dimension = known.gives(a.dimension);
    if (!dimension)
      return this.#report.add(
        'RULE_DIMENSION',
        arg.span,
        `${describe(a.dimension)} has no square root with a dimension`,
        'square something first',
      );
    return asNumber({ op: ast.name as Function1, a, dimension, span: ast.span });
  }

  #extreme(ast: Extract<Ast, { is: 'call' }>, op: 'min' | 'max', expected: Dimension | undefined): Num | undefined {
    if (ast.args.length < 2)
      return this.#report.add(
        'RULE_TYPE',
        ast.nameSpan,
        `\`${op}\` takes two numbers or more, or a \`for\``,
        `write \`${op}(a, b)\` or \`${op}(p.x for p in kind)\``,
      );
    const args = this.#alike(ast.args, expected, ast.span);
    return args && { op, args, dimension: (args[0] as Num).dimension, span: ast.span };
  }

  #atan2(ast: Extract<Ast, { is: 'call' }>): Num | undefined {
    if (ast.args.length !== 2) return this.#report.add('RULE_TYPE', ast.nameSpan, '`atan2` takes two numbers', 'write `atan2(y, x)`');
    const args = this.#alike(ast.args, undefined, ast.span);
    return args && { op: 'atan2', a: args[0] as Num, b: args[1] as Num, dimension: ANGLE, span: ast.span };
  }

  /** Numbers of one dimension. Literals come last, so that `lb` is read as what the others are. */
  #alike(asts: readonly Ast[], expected: Dimension | undefined, span: Span): readonly Num[] | undefined {
    const plain = asts.filter((ast) => !isLiteral(ast)).map((ast) => ({ ast, num: this.number(ast, expected) }));
    const dimension = plain.find(({ num }) => num)?.num?.dimension ?? expected;
    const nums = asts.map(
      (ast) => plain.find((known) => known.ast === ast)?.num ?? (isLiteral(ast) ? this.number(ast, dimension) : undefined),
    );
    if (!nums.every((num) => num !== undefined)) return undefined;
    const first = nums[0] as Num;
    const odd = nums.findIndex((num) => num.dimension !== first.dimension);
    if (odd < 0) return nums;
    return this.#mixed(first, nums[odd] as Num, span);
  }

  #mixed(a: Num, b: Num, span: Span): undefined {
    const unitless = [a, b].find(({ dimension, op }) => dimension === NONE && op === 'constant');
    const other = unitless === a ? b : a;
    return this.#report.add(
      'RULE_DIMENSION',
      unitless?.span ?? span,
      unitless
        ? `\`${textOf(unitless.span)}\` has no unit, and stands against ${describe(other.dimension)}`
        : `${describe(a.dimension)} and ${describe(b.dimension)} do not go together`,
      unitless
        ? `write its unit, such as \`${textOf(unitless.span)} ${EXAMPLE_UNITS.find((symbol) => findUnit(symbol)?.dimension === other.dimension) ?? 'mm'}\``
        : 'compare and add only what has one dimension',
    );
  }

  #fold(ast: Extract<Ast, { is: 'fold' }>, expected: Dimension | undefined): Checked | undefined {
    if (this.has(ast.binder))
      return this.#report.add('RULE_DUPLICATE_ID', ast.binderSpan, `\`${ast.binder}\` already stands for something`, 'choose another name');
    if (this.#levels.length > MOST_NESTED_FOLDS)
      return this.#report.add(
        'RULE_TOO_LARGE',
        ast.howSpan,
        `folds are nested more than ${MOST_NESTED_FOLDS} deep`,
        'give the inner one a quantity of its own',
      );
    const how = ast.how as Fold['how'];
    const at = ast.over.at && this.#place(ast.over.at);
    if (!this.#kind(ast.over)) return undefined;
    if (how !== 'count' && !ast.body)
      return this.#report.add(
        'RULE_SYNTAX',
        ast.howSpan,
        `\`${how}\` has nothing to go over`,
        `write \`${how}(p.attribute for p in ${ast.over.kind})\``,
      );
    if (how === 'count' && ast.body)
      return this.#report.add(
        'RULE_SYNTAX',
        ast.body.span,
        '`count` counts parts',
        `write \`count(${ast.binder} in ${ast.over.kind} where …)\``,
      );
    this.#levels.push(new ScopeBuilder());
    this.#binders.set(ast.binder, { index: this.#binders.size, of: { is: 'part', kind: ast.over.kind }, level: this.#levels.length - 1 });
    const binder = this.#binders.size - 1;
    const where = ast.over.where && this.truth(ast.over.where);
    const truths = how === 'every' || how === 'some';
    const body = ast.body && (truths ? this.truth(ast.body) : this.number(ast.body, expected));
    this.#binders.delete(ast.binder);
    const inner = this.#levels.pop() as ScopeBuilder;
    if ((ast.over.where && !where) || (ast.body && !body) || (ast.over.at && !at)) return undefined;
    const over: Selector = { kind: ast.over.kind, ...(at && { at }), ...(where && { where }), span: ast.over.span };
    const fold = this.#top.fold({
      how,
      binder,
      over,
      scope: { leaves: inner.leaves, folds: inner.folds },
      ...(body && { body }),
      span: ast.span,
    });
    if (truths) return { is: 'truth', truth: { op: 'fold-truth', fold, depth: 0, span: ast.span, text: textOf(ast.span) } };
    return asNumber({ op: 'fold', fold, depth: 0, dimension: how === 'count' ? NONE : (body as Num).dimension, span: ast.span });
  }

  get #top(): ScopeBuilder {
    return this.#levels.at(-1) as ScopeBuilder;
  }

  #kind(selector: SelectorAst): boolean {
    if (this.#vocabulary.kinds.has(selector.kind)) return true;
    this.#report.add(
      'RULE_UNKNOWN_NAME',
      selector.kindSpan,
      `there is no kind \`${selector.kind}\``,
      suggest(selector.kind, this.#vocabulary.kinds.keys()),
    );
    return false;
  }

  #place(ast: Ast): SubjectRef | undefined {
    const checked = this.check(ast);
    if (!checked || checked.is === 'subject') return checked?.ref;
    return this.#report.add(
      'RULE_TYPE',
      ast.span,
      `this is ${A[checked.is]}, and a place is expected`,
      'name a place such as `front`, or a part that is at one',
    );
  }

  /** The selector of a rule's own binder; its filter reads the rule's scope, the binder itself included. */
  selector(name: string, ast: SelectorAst): Selector | undefined {
    if (!this.#kind(ast)) return undefined;
    const at = ast.at && this.#place(ast.at);
    this.bind(name, { is: 'part', kind: ast.kind });
    const where = ast.where && this.truth(ast.where);
    if ((ast.at && !at) || (ast.where && !where)) return undefined;
    return { kind: ast.kind, ...(at && { at }), ...(where && { where }), span: ast.span };
  }

  #within(ast: Extract<Ast, { is: 'within' }>): Checked | undefined {
    const nums = this.#alike([ast.a, ast.b, ast.tolerance], undefined, ast.span);
    if (!nums) return undefined;
    const [a, b, tolerance] = nums as [Num, Num, Num];
    const apart = (x: Num, y: Num): Truth =>
      splitComparison('>=', tolerance, { op: 'subtract', a: x, b: y, dimension: x.dimension, span: ast.span }, ast.span);
    return { is: 'truth', truth: { op: 'and', parts: [apart(a, b), apart(b, a)], span: ast.span } };
  }

  #binary(ast: Extract<Ast, { is: 'binary' }>, expected: Dimension | undefined): Checked | undefined {
    switch (ast.op) {
      case 'and':
      case 'or': {
        const [a, b] = [this.truth(ast.a), this.truth(ast.b)];
        return a && b && { is: 'truth', truth: joined(ast.op, [a, b], ast.span) };
      }
      case '==':
      case '!=':
        return this.#same(ast, ast.op === '!=');
      case '^':
        return asNumber(this.#power(ast));
      case '*':
      case '/': {
        const [a, b] = [this.number(ast.a), this.number(ast.b)];
        if (!a || !b) return undefined;
        const dimension = (ast.op === '*' ? multiply : divide)(a.dimension, b.dimension);
        return asNumber({ op: ast.op === '*' ? 'multiply' : 'divide', a, b, dimension, span: ast.span });
      }
      case '+':
      case '-': {
        const nums = this.#alike([ast.a, ast.b], expected, ast.span);
        const [a, b] = nums ?? [];
        return a && b && asNumber({ op: ast.op === '+' ? 'add' : 'subtract', a, b, dimension: a.dimension, span: ast.span });
      }
      default:
        return this.#comparison(ast);
    }
  }

  #power(ast: Extract<Ast, { is: 'binary' }>): Num | undefined {
    const a = this.number(ast.a);
    if (!a) return undefined;
    if (ast.b.is !== 'quantity' || ast.b.unit !== undefined || !Number.isInteger(ast.b.number) || ast.b.number > 8) {
      return this.#report.add('RULE_TYPE', ast.b.span, 'a power is a whole number up to 8', 'write `x ^ 2`, or `sqrt(x)`');
    }
    return { op: 'power', a, exponent: ast.b.number, dimension: power(a.dimension, ast.b.number), span: ast.span };
  }

  #same(ast: Extract<Ast, { is: 'binary' }>, negated: boolean): Checked | undefined {
    const [a, b] = [this.check(ast.a), this.check(ast.b)];
    if (!a || !b) return undefined;
    const common = { negated, span: ast.span, text: textOf(ast.span) };
    if (a.is === 'number' || b.is === 'number')
      return this.#report.add(
        'RULE_REAL_EQUALITY',
        ast.opSpan,
        `numbers are never compared with \`${ast.op}\``,
        'write `a within 1 mm of b`',
      );
    if (a.is === 'subject' && b.is === 'subject') return { is: 'truth', truth: { op: 'same-subject', a: a.ref, b: b.ref, ...common } };
    if (a.is === 'text' && b.is === 'text') return this.#sameText(ast, a, b, common);
    if (a.is === 'truth' && b.is === 'truth' && b.truth.op === 'always')
      return { is: 'truth', truth: b.truth.value !== negated ? a.truth : this.#negated(a.truth) };
    return this.#report.add('RULE_TYPE', ast.opSpan, `${A[a.is]} is never ${A[b.is]}`, 'compare texts with texts, parts with parts');
  }

  #sameText(
    ast: Extract<Ast, { is: 'binary' }>,
    a: Extract<Checked, { is: 'text' }>,
    b: Extract<Checked, { is: 'text' }>,
    common: { negated: boolean; span: Span; text: string },
  ): Checked | undefined {
    for (const [side, other, span] of [
      [a, b, ast.a.span],
      [b, a, ast.b.span],
    ] as const) {
      if (side.ref.is === 'literal' && other.oneOf && !other.oneOf.includes(side.ref.value)) {
        return this.#report.add(
          'RULE_BAD_VALUE',
          span,
          `\`${side.ref.value}\` is not one of its values`,
          suggest(side.ref.value, other.oneOf),
        );
      }
    }
    return { is: 'truth', truth: { op: 'same-text', a: a.ref, b: b.ref, ...common } };
  }

  #comparison(ast: Extract<Ast, { is: 'binary' }>): Checked | undefined {
    const nums = this.#alike([ast.a, ast.b], undefined, ast.span);
    if (!nums) return undefined;
    const [left, right] = nums as [Num, Num];
    const swapped = ast.op === '<=' || ast.op === '<';
    const [a, b] = swapped ? [right, left] : [left, right];
    const how = ast.op === '>=' || ast.op === '<=' ? '>=' : '>';
    const compare = { op: 'compare', how, a, b, span: ast.span, text: textOf(ast.span) } as const;
    const outcome = settled(compare, this.#ranges);
    if (outcome === 'never')
      return this.#report.add(
        'RULE_NEVER_TRUE',
        ast.span,
        'this can never be true',
        'look at the ranges of what is compared, and at the direction of the comparison',
      );
    if (outcome === 'always')
      return this.#report.add(
        'RULE_ALWAYS_TRUE',
        ast.span,
        'this is always true',
        'leave it out, or look at the direction of the comparison',
      );
    return { is: 'truth', truth: splitComparison(how, a, b, ast.span) };
  }

  #negated(truth: Truth): Truth {
    switch (truth.op) {
      case 'always':
        return { ...truth, value: !truth.value };
      case 'compare':
        return { ...truth, how: truth.how === '>=' ? '>' : '>=', a: truth.b, b: truth.a };
      case 'and':
      case 'or':
        return { ...truth, op: truth.op === 'and' ? 'or' : 'and', parts: truth.parts.map((part) => this.#negated(part)) };
      case 'fold-truth': {
        const fold = this.#top.folds[truth.fold] as Fold;
        const how = fold.how === 'every' ? 'some' : 'every';
        return { ...truth, fold: this.#top.fold({ ...fold, how, body: this.#negated(fold.body as Truth) }) };
      }
      default:
        return { ...truth, negated: !truth.negated };
    }
  }

  /** What leaves can be, by their declared ranges. */
  readonly #ranges: Ranges = {
    leaf: (index, depth) => this.#rangeOfLeaf(this.#levels[this.#levels.length - 1 - depth]?.leaves[index]),
    fold: (index, depth) => rangeOfFold(this.#levels[this.#levels.length - 1 - depth]?.folds[index], this.#ranges),
    parameter: () => ANYTHING,
  };

  #rangeOfLeaf(leaf: Leaf | undefined): Interval {
    const [kind, attribute] = leaf?.name.split('.') ?? [];
    const signature =
      attribute === undefined
        ? this.#vocabulary.quantities.get(kind ?? '')
        : this.#vocabulary.kinds.get(kind ?? '')?.attributes.get(attribute);
    return { low: signature?.range?.atLeast ?? Number.NEGATIVE_INFINITY, high: signature?.range?.atMost ?? Number.POSITIVE_INFINITY };
  }

  template(pieces: readonly TemplateAst[], margins: boolean): readonly TemplatePiece[] | undefined {
    const checked = pieces.map((piece): TemplatePiece | undefined => (piece.is === 'words' ? piece : this.#hole(piece, margins)));
    return checked.every((piece) => piece !== undefined) ? checked : undefined;
  }

  #hole({ of, unit, unitSpan, turns }: Extract<TemplateAst, { is: 'hole' }>, margins: boolean): TemplatePiece | undefined {
    const shown = unit === undefined ? {} : { unit };
    if (unit !== undefined && unitSpan && !findUnit(unit))
      return this.#report.add('RULE_UNIT', unitSpan, `there is no unit \`${unit}\``, 'use mm, in, kg, lb, N, kPa, deg, A, V and others');
    if (of.is === 'name' && margins && (of.name === 'margin' || of.name === 'shortfall')) return { is: of.name, ...shown };
    const checked = this.check(of);
    if (!checked) return undefined;
    if (checked.is === 'subject') return { is: 'subject', of: checked.ref };
    if (checked.is === 'text') return { is: 'text', of: checked.ref };
    if (checked.is === 'truth')
      return this.#report.add('RULE_TYPE', of.span, 'a template shows numbers, texts and parts', 'say it in words');
    if (unit !== undefined && unitSpan && findUnit(unit, checked.num.dimension)?.dimension !== checked.num.dimension) {
      return this.#report.add(
        'RULE_DIMENSION',
        unitSpan,
        `\`${unit}\` is no unit of ${describe(checked.num.dimension)}`,
        'show it in a unit of its dimension',
      );
    }
    return { is: 'number', of: checked.num, ...shown, ...(turns && { turns }) };
  }
}

const A = { number: 'a number', truth: 'a yes or no', text: 'a text', subject: 'a part or place' } as const;
const EXAMPLE_UNITS = ['mm', 'kg', 'N', 'kPa', 'deg', 'A', 'V', 'km/h', 'h'];

const asNumber = (num: Num | undefined): Checked | undefined => num && { is: 'number', num };
const isLiteral = (ast: Ast): boolean => ast.is === 'quantity' || (ast.is === 'negate' && isLiteral(ast.a));
function rangeOfFold(fold: Fold | undefined, outer: Ranges): Interval {
  if (!fold || fold.how === 'every' || fold.how === 'some') return ANYTHING;
  if (fold.how === 'count') return NOT_NEGATIVE;
  const inner: Ranges = {
    leaf: () => ANYTHING,
    fold: (index, depth) => (depth === 0 ? rangeOfFold(fold.scope.folds[index], inner) : outer.fold(index, depth - 1)),
    parameter: outer.parameter,
  };
  const body = intervalOf(fold.body as Num, inner);
  if (fold.how !== 'sum') return body;
  return body.low >= 0 ? NOT_NEGATIVE : ANYTHING;
}
