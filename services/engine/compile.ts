/**
 * One generated function a question over a rule's blocks of slots: fast enough to ask of every tuple of every rule
 * at every corner of every tolerance. Only checked trees come here, and only numbers and known names are written
 * into the code; no text of an author is.
 */
import { atomsOf, compareMargin, EmptyFold } from './interpret.ts';
import { argumentRoots, type Layout, layOut, templateRoots } from './layout.ts';
import type { Fold, Num, Rule, TextRef, Truth } from './tree.ts';

/** Values by slot, slot numbers by block, and where the tuple's block starts. */
export type Question = (values: Float64Array, slots: Int32Array, at: number) => number;

export interface CompiledRule {
  readonly rule: Rule;
  readonly layout: Layout;
  /** Whether the rule applies to the tuple: 1, 0, NaN. Absent when it always does. */
  readonly guard: Question | undefined;
  /** The filters of its binders and its `when`, which the guard joins. */
  readonly guards: readonly Truth[];
  /** Whether what is required is met: 1, 0, NaN. */
  readonly met: Question;
  /** Guard and requirement of every tuple in one loop: codes of QUICK by tuple. */
  readonly quick: (values: Float64Array, slots: Int32Array, starts: Int32Array, out: Uint8Array) => void;
  /** The margin of each atom of `require`. */
  readonly margins: readonly Question[];
}

/** Codes of the quick question's answers. */
export const QUICK = { conflict: 0, clear: 1, unknown: 2, notApplicable: 3 } as const;

const EMPTY = new EmptyFold();

const helpers = {
  margin: (a: number, b: number) => compareMargin(a, b, false),
  strict: (a: number, b: number) => compareMargin(a, b, true),
  finite: (x: number) => (x - x === 0 ? x : Number.NaN),
  and: (a: number, b: number) => (a === 0 || b === 0 ? 0 : a === 1 && b === 1 ? 1 : Number.NaN),
  or: (a: number, b: number) => (a === 1 || b === 1 ? 1 : a === 0 && b === 0 ? 0 : Number.NaN),
  same: (a: number, b: number) => (Number.isNaN(a) || Number.isNaN(b) ? Number.NaN : a === b ? 1 : 0),
  above: (a: number, b: number) => (a <= b ? 0 : a > b ? (compareMargin(a, b, true) >= 0 ? 1 : 0) : Number.NaN),
  near: (a: number, b: number) => (compareMargin(a, b, false) >= 0 ? 1 : 0),
  nothing: EMPTY,
  empty: () => {
    throw EMPTY;
  },
};

export function compileRule(rule: Rule, internText: (literal: string) => number): CompiledRule {
  const wheres = rule.binders.flatMap((binder) => (binder.selector.where ? [binder.selector.where] : []));
  const guards = rule.when ? [...wheres, rule.when] : wheres;
  const roots = [...guards, rule.require, ...rule.lets.values(), ...templateRoots(rule.says), ...argumentRoots(rule.work)];
  const layout = layOut(rule.scope, roots);
  const build = (make: (code: Emitter) => string) => generate(layout, internText, make);
  return {
    rule,
    layout,
    guards,
    guard: guards.length > 0 ? build((code) => guards.map((guard) => code.truth(guard)).reduce((a, b) => `h.and(${a},${b})`)) : undefined,
    met: build((code) => code.truth(rule.require)),
    quick: generateQuick(layout, internText, guards, rule.require),
    margins: atomsOf(rule.require).map((atom) => build((code) => code.atom(atom))),
  };
}

const hasExtremes = ({ scope, folds }: Layout): boolean =>
  scope.folds.some(({ how }) => how === 'min' || how === 'max') || folds.some(hasExtremes);

function generateQuick(
  layout: Layout,
  internText: (literal: string) => number,
  guards: readonly Truth[],
  require: Truth,
): CompiledRule['quick'] {
  const code = new Emitter(layout, internText);
  const guard = guards.map((each) => code.truth(each)).reduceRight((rest, each) => (rest === '' ? each : `h.and(${each},${rest})`), '');
  const before = code.statements.splice(0);
  const met = code.truth(require);
  const inner = `${code.statements.join(' ')} const r=${met}; out[i]=r===1?1:r===0?0:2;`;
  // A least or greatest of nothing throws, and means that the rule does not apply to that tuple.
  const asked = hasExtremes(layout) ? `try{${inner}}catch(e){if(e!==h.nothing)throw e;out[i]=3;}` : inner;
  const guarded = guard === '' ? asked : `const g=${guard}; if(g!==1)out[i]=g===0?3:2; else{${asked}}`;
  const body = `'use strict'; return (v, s, starts, out) => { for (let i = 0; i < starts.length; i++) { const p0 = starts[i]; ${before.join(' ')} ${guarded} } };`;
  return new Function('h', body)(helpers) as CompiledRule['quick'];
}

function generate(layout: Layout, internText: (literal: string) => number, make: (code: Emitter) => string): Question {
  const code = new Emitter(layout, internText);
  const result = make(code);
  const body = `'use strict'; return (v, s, p0) => { ${code.statements.join(' ')} return ${result}; };`;
  return new Function('h', body)(helpers) as Question;
}

const FUNCTIONS: Readonly<Record<string, string>> = { add: '+', subtract: '-', multiply: '*' };

/** Writes expressions as text, and the loops they need as statements that come before. */
class Emitter {
  readonly statements: string[] = [];
  readonly #stack: Layout[];
  readonly #internText: (literal: string) => number;
  #names = 0;

  constructor(layout: Layout, internText: (literal: string) => number) {
    this.#stack = [layout];
    this.#internText = internText;
  }

  #slot(depth: number, index: number): string {
    return `v[s[p${this.#stack.length - 1 - depth}+${index}]]`;
  }

  #layout(depth: number): Layout {
    return this.#stack[this.#stack.length - 1 - depth] as Layout;
  }

  #name(): string {
    return `t${this.#names++}`;
  }

  number(node: Num): string {
    switch (node.op) {
      case 'constant':
        return node.plusMinus > 0 ? this.#tolerated(node) : literal(node.value);
      case 'leaf':
        return this.#slot(node.depth, node.leaf);
      case 'parameter':
        return 'NaN';
      case 'local':
        return this.number(node.a);
      case 'negate':
        return `(-${this.number(node.a)})`;
      case 'add':
      case 'subtract':
      case 'multiply':
        return `(${this.number(node.a)}${FUNCTIONS[node.op]}${this.number(node.b)})`;
      case 'divide':
        return `h.finite(${this.number(node.a)}/${this.number(node.b)})`;
      case 'power':
        return `h.finite(${this.number(node.a)}**${literal(node.exponent)})`;
      case 'atan2':
        return `Math.atan2(${this.number(node.a)},${this.number(node.b)})`;
      case 'min':
      case 'max':
        return `Math.${node.op}(${node.args.map((arg) => this.number(arg)).join(',')})`;
      case 'fold':
        return this.#fold(node.fold, node.depth);
      default:
        return `Math.${node.op}(${this.number(node.a)})`;
    }
  }

  #tolerated(node: Extract<Num, { op: 'constant' }>): string {
    for (let depth = 0; depth < this.#stack.length; depth++) {
      const layout = this.#layout(depth);
      const index = layout.constants.indexOf(node);
      if (index >= 0) return this.#slot(depth, layout.constantsAt + index);
    }
    return literal(node.value);
  }

  truth(node: Truth): string {
    switch (node.op) {
      case 'always':
        return node.value ? '1' : '0';
      case 'compare':
        return node.how === '>' ? `h.above(${this.number(node.a)},${this.number(node.b)})` : this.#atLeast(node);
      case 'truth-leaf':
        return node.negated ? `(1-${this.#slot(node.depth, node.leaf)})` : this.#slot(node.depth, node.leaf);
      case 'same-text': {
        const same = `h.same(${this.#text(node.a)},${this.#text(node.b)})`;
        return node.negated ? `(1-${same})` : same;
      }
      case 'same-subject': {
        const layout = this.#layout(0);
        const slot = this.#slot(0, layout.comparisonsAt + layout.comparisons.indexOf(node));
        return node.negated ? `(1-${slot})` : slot;
      }
      case 'and':
      case 'or':
        return node.parts.map((part) => this.truth(part)).reduce((a, b) => `h.${node.op}(${a},${b})`);
      case 'fold-truth':
        return this.#fold(node.fold, node.depth);
    }
  }

  /** Written out, since it is nearly all that is asked: met, or so near that it counts as on the line. */
  #atLeast(node: Extract<Truth, { op: 'compare' }>): string {
    const [a, b] = [this.#name(), this.#name()];
    this.statements.push(`const ${a}=${this.number(node.a)},${b}=${this.number(node.b)};`);
    return `(${a}>=${b}?1:${a}<${b}?h.near(${a},${b}):NaN)`;
  }

  /** An atom's margin: infinite by its sign where it has no degree. */
  atom(node: Truth): string {
    if (node.op === 'compare') return this.#margin(node);
    const name = this.#name();
    this.statements.push(`const ${name}=${this.truth(node)};`);
    return `(${name}===1?Infinity:${name}===0?-Infinity:NaN)`;
  }

  #margin(node: Extract<Truth, { op: 'compare' }>): string {
    return `h.${node.how === '>' ? 'strict' : 'margin'}(${this.number(node.a)},${this.number(node.b)})`;
  }

  #text(ref: TextRef): string {
    return ref.is === 'literal' ? literal(this.#internText(ref.value)) : this.#slot(ref.depth, ref.leaf);
  }

  /** A loop over a fold's members; the filter is asked here, since it may read values that change. */
  #fold(index: number, depth: number): string {
    const outer = this.#layout(depth);
    const fold = outer.scope.folds[index] as Fold;
    const inner = outer.folds[index] as Layout;
    const name = this.#name();
    const header = `p${this.#stack.length - 1 - depth}+${outer.foldsAt + 2 * index}`;
    // A fold of an outer scope must read that scope's blocks, whatever loop it is written in.
    const dropped = this.#stack.splice(this.#stack.length - depth, depth);
    const block = `p${this.#stack.length}`;
    this.#stack.push(inner);
    const saved = this.statements.splice(0);
    const step = this.#step(fold, name);
    const loop = this.statements.splice(0);
    this.#stack.pop();
    this.#stack.push(...dropped);
    this.statements.push(...saved, `let ${name}=${START[fold.how]},${name}n=0;`);
    this.statements.push(
      `for(let ${name}i=0,${name}e=s[${header}+1];${name}i<${name}e;${name}i++){const ${block}=s[${header}]+${name}i*${inner.size};${loop.join(' ')}${step}}`,
    );
    if (fold.how === 'min' || fold.how === 'max') this.statements.push(`if(${name}n===0)h.empty();`);
    return name;
  }

  #step(fold: Fold, name: string): string {
    const where = fold.over.where ? this.truth(fold.over.where) : '1';
    const value = fold.body === undefined ? '1' : isTruth(fold) ? this.truth(fold.body as Truth) : this.number(fold.body as Num);
    const filter = fold.over.where ? `const ${name}w=${where};if(${name}w===0)continue;` : '';
    const member = fold.over.where ? `(${name}w===1?${value}:NaN)` : value;
    const joined = {
      sum: `${name}+=${member};`,
      count: `${name}+=${member};`,
      min: `${name}=Math.min(${name},${member});`,
      max: `${name}=Math.max(${name},${member});`,
      every: `${name}=h.and(${name},${member});`,
      some: `${name}=h.or(${name},${member});`,
    };
    return `${filter}${name}n++;${joined[fold.how]}`;
  }
}

const START = { sum: '0', count: '0', min: 'Infinity', max: '-Infinity', every: '1', some: '0' } as const;

const isTruth = (fold: Fold): boolean => fold.how === 'every' || fold.how === 'some';

const literal = (x: number): string => (x < 0 || Object.is(x, -0) ? `(${x})` : `${x}`);
