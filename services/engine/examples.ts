/**
 * Runs a rule's own examples. Each binds the values the rule reads on a made-up vehicle that has just the parts the
 * rule ranges over; a fold is given as one value.
 */
import { Bands } from './band.ts';
import { bindRule, type World } from './bind.ts';
import { compileRule } from './compile.ts';
import { type Diagnostic, Report } from './diagnostics.ts';
import { evaluate } from './evaluate.ts';
import { type Places, resolve } from './layout.ts';
import { Ranges } from './proof.ts';
import { foldName, leafNames } from './rule-file.ts';
import type { Leaf, Num, Rule, RuleExample, Truth } from './tree.ts';
import { type Candidate, Texts, Values } from './values.ts';

/** Every example of every rule that does not come out as it says. */
export function failedExamples(rules: Iterable<Rule>): readonly Diagnostic[] {
  const report = new Report();
  for (const rule of rules) {
    const plain = withoutFolds(rule);
    for (const example of rule.examples) checkExample(plain, example, report);
  }
  return report.sorted();
}

const CLOSE = 1e-6;

function checkExample(rule: Rule, example: RuleExample, report: Report): void {
  const missing = rule.scope.leaves.map(leafNames).filter((names) => !names.some((name) => example.given.has(name)));
  if (missing.length > 0) {
    report.add(
      'RULE_EXAMPLE',
      example.span,
      `the example does not say ${missing.map(([name]) => `\`${name}\``).join(', ')}`,
      'give each value the rule reads, or write `unknown`',
    );
    return;
  }
  const { verdict, margin } = runExample(rule, example);
  const wrongMargin =
    example.margin !== undefined && !(Math.abs((margin ?? Number.NaN) - example.margin) <= CLOSE * Math.max(1, Math.abs(example.margin)));
  if (verdict !== example.verdict)
    report.add(
      'RULE_EXAMPLE',
      example.span,
      `the example says ${example.verdict}, and it comes out ${verdict}`,
      'one of the two is wrong: the rule or the example',
    );
  else if (wrongMargin)
    report.add(
      'RULE_EXAMPLE',
      example.span,
      `the example's margin is ${example.margin}, and it comes out ${margin} (SI)`,
      'one of the two is wrong: the rule or the example',
    );
}

export interface ExampleResult {
  readonly verdict: string;
  readonly margin: number | undefined;
}

export function runExample(rule: Rule, example: RuleExample): ExampleResult {
  const plain = withoutFolds(rule);
  const texts = new Texts();
  const compiled = compileRule(plain, (literal) => texts.intern(literal));
  const world = exampleWorld(plain, example, texts);
  const bound = bindRule(compiled, world);
  const asWritten = plain.binders.map((_, i) => i).join(',');
  const evaluation = evaluate(bound, world).find(({ subjects }) => subjects.join(',') === asWritten);
  return { verdict: evaluation?.verdict ?? 'not-applicable', margin: evaluation?.controlling?.margin };
}

/** One part a binder, each at a place of its own; every other place is distinct from those. */
const places: Places = {
  placed: (place) => 1000 + [...place].reduce((sum, char) => (sum * 31 + char.charCodeAt(0)) % 9973, 7),
  step: (subject, to) => (to === 'axle' ? 20000 : 40000) + subject,
};

function exampleWorld(rule: Rule, example: RuleExample, texts: Texts): World {
  const binders = rule.binders.map((_, i) => i);
  const given = new Map(
    rule.scope.leaves.map((leaf) => [
      keyOf(
        leaf.name,
        leaf.subjects.map((ref) => resolve(ref, binders, places)),
      ),
      leafNames(leaf),
    ]),
  );
  const values: Values = new Values(
    {
      signature: () => undefined,
      provider: () => undefined,
      candidates: (name, subjects) => candidate(given.get(keyOf(name, subjects)), example, values),
    },
    texts,
  );
  const partsOf = (kind: string): readonly number[] => binders.filter((i) => rule.binders[i]?.selector.kind === kind);
  return {
    ...places,
    values,
    bands: new Bands(values),
    ranges: new Ranges(values),
    parts: partsOf,
    partsAt: (kind) => partsOf(kind),
    placeOf: (subject) => subject,
  };
}

const keyOf = (name: string, subjects: readonly number[]): string => `${name}|${subjects.join(',')}`;

function candidate(names: readonly string[] | undefined, example: RuleExample, values: Values): Candidate[] {
  const found = names?.map((name) => example.given.get(name)).find((value) => value !== undefined);
  if (!found) return [];
  const value = typeof found.value === 'string' ? values.intern(found.value) : Number(found.value);
  return [{ value, plusMinus: found.plusMinus, rank: 'stated' }];
}

/** The rule with a leaf in the place of each fold. */
function withoutFolds(rule: Rule): Rule {
  const first = rule.scope.leaves.length;
  const stand = rule.scope.folds.map(({ span, how }): Leaf => {
    const text = foldName(span);
    return {
      name: text,
      subjects: [],
      type: how === 'every' || how === 'some' ? { is: 'truth' } : { is: 'number', dimension: { key: '', exponents: [] } },
      span,
      text,
    };
  });
  const number = (node: Num): Num => replace(node, first) as Num;
  const truth = (node: Truth): Truth => replace(node, first) as Truth;
  return {
    ...rule,
    scope: { leaves: [...rule.scope.leaves, ...stand], folds: [] },
    binders: rule.binders.map(({ name, selector }) => ({
      name,
      selector: { ...selector, ...(selector.where && { where: truth(selector.where) }) },
    })),
    ...(rule.when && { when: truth(rule.when) }),
    require: truth(rule.require),
    lets: new Map([...rule.lets].map(([name, node]) => [name, number(node)])),
    says: [],
    work: [],
  };
}

function replace(node: Num | Truth, first: number): Num | Truth {
  if (node.op === 'fold') return { op: 'leaf', leaf: first + node.fold, depth: 0, dimension: node.dimension, span: node.span };
  if (node.op === 'fold-truth')
    return { op: 'truth-leaf', leaf: first + node.fold, depth: 0, negated: false, span: node.span, text: node.text };
  if (node.op === 'same-text' || node.op === 'same-subject') return node;
  const copy = { ...node } as Record<string, unknown>;
  if ('args' in node) copy['args'] = node.args.map((arg) => replace(arg, first));
  if ('parts' in node) copy['parts'] = node.parts.map((part) => replace(part, first));
  if ('a' in node) copy['a'] = replace(node.a, first);
  if ('b' in node) copy['b'] = replace(node.b, first);
  return copy as unknown as Num | Truth;
}
