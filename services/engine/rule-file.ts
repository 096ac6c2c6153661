/** Reads a rule: one constraint with its reason, source, work, cautions and examples. */
import { NONE, parseQuantity } from '../units/index.ts';
import type { Ast } from './ast.ts';
import { Checker, type Vocabulary } from './checker.ts';
import { type Report, suggest } from './diagnostics.ts';
import { readId } from './dictionary-file.ts';
import { expressionOf, type References, readBasis, readCautions, readQuantity, readTemplate, readWorkCalls } from './fields.ts';
import { parseSelector } from './parser.ts';
import type { ExampleValue, Leaf, Num, Rule, RuleExample, Scope, Truth } from './tree.ts';
import { Fields, head, type YamlNode, type YamlText } from './yaml-reader.ts';

const HAZARDS = ['safety', 'damage', 'legal', 'comfort'] as const;
const EXAMPLE_VERDICTS = ['conflict', 'unknown', 'close', 'clear', 'not-applicable'] as const;
const MOST_BINDERS = 3;
const NAME = /^[a-z][a-z0-9_]*$/;

export function readRule(
  fields: Fields,
  place: { readonly fileName: string; readonly area: string },
  vocabulary: Vocabulary,
  references: References,
  report: Report,
): Rule | undefined {
  const checker = new Checker(vocabulary, report);
  const id = readId(fields, place.fileName, report);
  const title = fields.neededText('title', 'say in a sentence what holds when it is met');
  const hazard = fields.oneOf('hazard', HAZARDS);
  fields.needed('hazard', HAZARDS.join(', '));
  const binders = readBinders(fields, checker, report);
  const givens = readGivens(fields, checker, references, report);
  const lets = readLets(fields, checker, report);
  const when = readTruth(fields.text('when'), checker, report);
  const require = readTruth(fields.neededText('require', 'say what must hold: `require: "a >= b"`'), checker, report);
  const unless = fields.fields('unless_met') ?? missing(fields, report);
  const says = readTemplate(unless?.neededText('says', 'say what is wrong, with its numbers'), checker, true, report);
  const work = readWorkCalls(unless?.list('work') ?? [], checker, references, report);
  unless?.done();
  const cautions = readCautions(fields, references, report);
  const basis = readBasis(fields, references, report);
  const note = fields.text('note')?.text;
  const scope = checker.scope;
  const examples = readExamples(fields, scope, report);
  fields.done();
  reportUnused(fields, checker, [...givens.keys(), ...lets.keys()], report);
  if (id === undefined || !hazard || !require) return undefined;
  return {
    id,
    area: place.area,
    title: title?.text ?? id,
    hazard,
    binders,
    scope,
    ...(when && { when }),
    require,
    givens,
    lets,
    says,
    work,
    cautions,
    basis,
    ...(note && { note }),
    examples,
    span: fields.span,
  };
}

function missing(fields: Fields, report: Report): undefined {
  if (!fields.map.entries.has('unless_met'))
    report.add('RULE_MISSING_KEY', fields.span, '`unless_met` is missing', 'add `unless_met:` with `says:` and the `work:` that cures it');
  return undefined;
}

function readTruth(node: YamlText | undefined, checker: Checker, report: Report): Truth | undefined {
  const ast = expressionOf(node, report);
  return ast && checker.truth(ast);
}

function readBinders(fields: Fields, checker: Checker, report: Report): Rule['binders'] {
  const entries = fields.entries('for');
  if (entries.length > MOST_BINDERS)
    report.add('RULE_TOO_LARGE', fields.key('for'), `a rule ranges over ${MOST_BINDERS} parts at the most`, 'use a fold for the others');
  return entries.flatMap(([name, { key, value }]) => {
    if (!NAME.test(name)) report.add('RULE_BAD_VALUE', key, `\`${name}\` cannot be a name`, 'write it in snake_case');
    if (value.is !== 'text') {
      report.add('RULE_TYPE', head(value.span), 'a binder ranges over a kind', `write \`${name}: kind at place where …\``);
      return [];
    }
    const ast = parseSelector(value, report);
    const selector = ast && checker.selector(name, ast);
    return selector ? [{ name, selector }] : [];
  });
}

function readGivens(fields: Fields, checker: Checker, references: References, report: Report): Rule['givens'] {
  const givens = new Map<string, Rule['givens'] extends ReadonlyMap<string, infer G> ? G : never>();
  for (const [name, { key, value }] of fields.entries('given')) {
    const entry = Fields.of(value, `\`${name}\``, report);
    const read = readQuantity(entry?.neededText('value', 'a number with its unit'), undefined, report);
    const basis = entry?.neededText('basis', '`common-practice`, or the id of a source');
    const note = entry?.text('note')?.text;
    entry?.done();
    if (checker.has(name)) report.add('RULE_DUPLICATE_ID', key, `\`${name}\` already stands for something`, 'choose another name');
    if (basis && basis.text !== 'common-practice' && !references.sources.has(basis.text))
      report.add(
        'RULE_NO_SOURCE',
        basis.span,
        `there is no source \`${basis.text}\``,
        suggest(basis.text, ['common-practice', ...references.sources.keys()]),
      );
    if (!read || !basis) continue;
    const { value: si, plusMinus, dimension, unit } = read;
    checker.define(name, { is: 'given', num: { op: 'constant', value: si, plusMinus, dimension, span: key } });
    givens.set(name, { value: si, plusMinus, dimension, unit, basis: basis.text, ...(note && { note }) });
  }
  return givens;
}

function readLets(fields: Fields, checker: Checker, report: Report): Map<string, Num> {
  const lets = new Map<string, Num>();
  for (const [name, { key, value }] of fields.entries('let')) {
    if (checker.has(name)) report.add('RULE_DUPLICATE_ID', key, `\`${name}\` already stands for something`, 'choose another name');
    const ast: Ast | undefined =
      value.is === 'text'
        ? expressionOf(value, report)
        : report.add('RULE_TYPE', head(value.span), 'a definition is an expression', 'put it in quotes');
    const num = ast && checker.number(ast);
    if (!ast || !num) continue;
    checker.define(name, { is: 'let', ast });
    lets.set(name, num);
  }
  return lets;
}

function reportUnused(fields: Fields, checker: Checker, names: readonly string[], report: Report): void {
  const places = [...fields.entries('given'), ...fields.entries('let')];
  for (const [name, { key }] of places) {
    if (names.includes(name) && !checker.used.has(name))
      report.add('RULE_UNUSED', key, `\`${name}\` is never used`, 'use it, or take it out');
  }
}

/** Spaces do not matter when an example names a value. */
export const squeezed = (text: string): string => text.replace(/\s+/g, '');

/** The names an example may give a leaf by: as written, or a quantity's bare name. */
export const leafNames = (leaf: Leaf): readonly string[] => [squeezed(leaf.text), ...(leaf.name.includes('.') ? [] : [leaf.name])];

export const foldName = (span: Leaf['span']): string => squeezed(span.source.text.slice(span.start, span.end));

function readExamples(fields: Fields, scope: Scope, report: Report): RuleExample[] {
  const examples = fields.list('examples').flatMap((node): RuleExample[] => {
    const example = readExample(node, scope, report);
    return example ? [example] : [];
  });
  for (const verdict of ['clear', 'conflict', 'unknown'] as const) {
    if (!examples.some((example) => example.verdict === verdict))
      report.add(
        'RULE_NO_EXAMPLE',
        fields.key('examples'),
        `no example is ${verdict}`,
        'give examples on both sides of the line, on it, and with something unknown',
      );
  }
  return examples;
}

function readExample(node: YamlNode, scope: Scope, report: Report): RuleExample | undefined {
  const fields = Fields.of(node, 'an example', report);
  if (!fields) return undefined;
  const name = fields.text('name')?.text;
  const verdict = fields.oneOf('verdict', EXAMPLE_VERDICTS);
  fields.needed('verdict', EXAMPLE_VERDICTS.join(', '));
  const given = new Map<string, ExampleValue | null>();
  for (const [text, { key, value }] of fields.entries('given')) readGiven(text, key, value, scope, given, report);
  const margin = readQuantity(fields.text('margin'), undefined, report);
  const shortfall = readQuantity(fields.text('shortfall'), undefined, report);
  fields.done();
  const signed = margin?.value ?? (shortfall ? -shortfall.value : undefined);
  return verdict && { ...(name && { name }), given, verdict, ...(signed !== undefined && { margin: signed }), span: fields.span };
}

function readGiven(
  text: string,
  key: Leaf['span'],
  value: YamlNode,
  scope: Scope,
  given: Map<string, ExampleValue | null>,
  report: Report,
): void {
  const name = squeezed(text);
  const leaf = scope.leaves.find((candidate) => leafNames(candidate).includes(name));
  const fold = scope.folds.find((candidate) => foldName(candidate.span) === name);
  if (!leaf && !fold) {
    report.add(
      'RULE_EXAMPLE',
      key,
      `the rule does not read \`${text}\``,
      suggest(name, [...scope.leaves.flatMap(leafNames), ...scope.folds.map(({ span }) => foldName(span))]),
    );
    return;
  }
  if (value.is !== 'text') {
    report.add('RULE_TYPE', head(value.span), 'a value is a text', 'write `410 mm`, `yes`, or `unknown`');
    return;
  }
  const read = value.text === 'unknown' ? null : readExampleValue(value, leaf, report);
  if (read !== undefined) given.set(name, read);
}

function readExampleValue(value: YamlText, leaf: Leaf | undefined, report: Report): ExampleValue | undefined {
  if (leaf?.type.is === 'truth' || (!leaf && /^(yes|no)$/.test(value.text)))
    return { value: value.text === 'yes' || value.text === 'true', plusMinus: 0 };
  if (leaf?.type.is === 'text') return { value: value.text, plusMinus: 0 };
  const dimension = leaf?.type.is === 'number' ? leaf.type.dimension : undefined;
  const parsed = parseQuantity(value.text, dimension);
  if (parsed.ok) return { value: parsed.measure.value, plusMinus: parsed.measure.plusMinus };
  return report.add(dimension === NONE ? 'RULE_BAD_VALUE' : 'RULE_UNIT', value.span, parsed.fault.message, parsed.fault.help);
}
