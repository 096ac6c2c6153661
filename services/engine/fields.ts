/** Readings that several kinds of file share: quantities, types, sources, cautions, measuring, calls of works. */
import { type Dimension, findUnit, NONE, parseQuantity } from '../units/index.ts';
import type { Ast } from './ast.ts';
import type { Checker } from './checker.ts';
import { type Report, suggest } from './diagnostics.ts';
import { parseExpression, parseTemplate } from './parser.ts';
import type { Argument, Basis, Measuring, Source as Reference, TemplatePiece, Type, WorkCall, WorkParameter } from './tree.ts';
import { Fields, head, type YamlNode, type YamlText } from './yaml-reader.ts';

/** What files refer to by id. */
export interface References {
  readonly sources: ReadonlyMap<string, Reference>;
  readonly cautions: ReadonlyMap<string, string>;
  readonly works: ReadonlyMap<string, readonly WorkParameter[]>;
}

export interface ReadQuantity {
  readonly value: number;
  readonly plusMinus: number;
  readonly unit: string;
  readonly dimension: Dimension;
}

/** A quantity as text; of that dimension, if one is expected. */
export function readQuantity(node: YamlText | undefined, expected: Dimension | undefined, report: Report): ReadQuantity | undefined {
  if (!node) return undefined;
  const parsed = parseQuantity(node.text, expected);
  if (parsed.ok) return { ...parsed.measure, unit: parsed.unit.symbol, dimension: parsed.unit.dimension };
  const { code, message, help, start, end } = parsed.fault;
  const kind =
    code === 'DIMENSION_WRONG' ? 'RULE_DIMENSION' : code === 'UNIT_UNKNOWN' || code === 'UNIT_MISSING' ? 'RULE_UNIT' : 'RULE_BAD_VALUE';
  return report.add(kind, node.part(start, end), message, help);
}

/** `unit: mm`, `truth: yes`, `one_of: […]` or `text: what it holds`. */
export function readType(fields: Fields, report: Report): { readonly type: Type; readonly unit?: string } | undefined {
  const unit = fields.text('unit');
  const truth = fields.truth('truth');
  const oneOf = fields.texts('one_of').map(({ text }) => text);
  const text = fields.text('text');
  if (unit) {
    const found = findUnit(unit.text, fields.text('dimension')?.text === 'force' ? findUnit('N')?.dimension : undefined);
    return found
      ? { type: { is: 'number', dimension: found.dimension }, unit: found.symbol }
      : report.add(
          'RULE_UNIT',
          unit.span,
          `there is no unit \`${unit.text}\``,
          'use mm, in, kg, lb, N, kPa, deg, A, V and others; `1` for a plain number',
        );
  }
  if (truth === true) return { type: { is: 'truth' } };
  if (oneOf.length > 0) return { type: { is: 'text', oneOf } };
  if (text) return { type: { is: 'text' } };
  return report.add('RULE_MISSING_KEY', fields.span, 'nothing says what this holds', 'give `unit`, `truth: yes`, `one_of` or `text`');
}

export function readBasis(fields: Fields, references: References, report: Report): Basis[] {
  if (fields.list('basis').length === 0)
    report.add(
      'RULE_NO_SOURCE',
      fields.key('basis'),
      'nothing says what this rests on',
      'add `basis:` with a source id, or `- kind: common-practice`',
    );
  return fields.list('basis').flatMap((item): Basis[] => {
    const entry = Fields.of(item, 'a basis', report);
    if (!entry) return [];
    const source = entry.text('source');
    const kind = entry.oneOf('kind', ['common-practice']);
    const [clause, note] = [entry.text('clause')?.text, entry.text('note')?.text];
    entry.done();
    if (!source && !kind)
      report.add('RULE_NO_SOURCE', entry.span, 'this names no source', 'give `source: <id>` or `kind: common-practice`');
    if (source && !references.sources.has(source.text))
      report.add('RULE_NO_SOURCE', source.span, `there is no source \`${source.text}\``, suggest(source.text, references.sources.keys()));
    return [{ ...(source && { source: source.text }), ...(clause && { clause }), ...(note && { note }) }];
  });
}

export function readCautions(fields: Fields, { cautions }: Pick<References, 'cautions'>, report: Report): string[] {
  return fields.texts('cautions').map(({ text, span }) => {
    if (!cautions.has(text)) report.add('RULE_UNKNOWN_CAUTION', span, `there is no caution \`${text}\``, suggest(text, cautions.keys()));
    return text;
  });
}

export function readMeasuring(
  fields: Fields | undefined,
  type: Type,
  references: Pick<References, 'cautions'>,
  report: Report,
): Measuring | undefined {
  if (!fields) return undefined;
  const how = fields.neededText('how', 'say how a person reads it');
  const tool = fields.neededText('tool', 'name the tool');
  const dimension = type.is === 'number' ? type.dimension : NONE;
  const accuracy = readQuantity(fields.text('accuracy'), dimension, report);
  const minutes = fields.text('minutes');
  const optional = Object.fromEntries(
    (['where', 'suspension', 'steering'] as const).flatMap((key) => (fields.text(key) ? [[key, fields.text(key)?.text]] : [])),
  );
  const cautions = readCautions(fields, references, report);
  const parts = fields.texts('with').map(({ text }) => text);
  fields.done();
  if (minutes && !(Number(minutes.text) > 0))
    report.add('RULE_BAD_VALUE', minutes.span, `\`${minutes.text}\` is no number of minutes`, 'write a plain number');
  return (
    how &&
    tool && {
      how: how.text,
      tool: tool.text,
      ...optional,
      ...(accuracy && { accuracy: accuracy.value }),
      ...(minutes && { minutes: Number(minutes.text) }),
      ...(parts.length > 0 && { with: parts }),
      cautions,
    }
  );
}

export function expressionOf(node: YamlText | undefined, report: Report): Ast | undefined {
  return node && parseExpression(node, report);
}

export function readTemplate(node: YamlText | undefined, checker: Checker, margins: boolean, report: Report): readonly TemplatePiece[] {
  const pieces = node && parseTemplate(node, report);
  return (pieces && checker.template(pieces, margins)) || [];
}

/** Works asked for: `- work-id`, or `- work-id: { parameter: "expression" }`. */
export function readWorkCalls(nodes: readonly YamlNode[], checker: Checker, references: References, report: Report): WorkCall[] {
  return nodes.flatMap((node): WorkCall[] => {
    const call = readCall(node, checker, references, report);
    return call ? [call] : [];
  });
}

function readCall(node: YamlNode, checker: Checker, references: References, report: Report): WorkCall | undefined {
  if (node.is === 'list')
    return report.add(
      'RULE_TYPE',
      head(node.span),
      'a work is its id, or its id with what it takes',
      'write `- work-id: { parameter: "expression" }`',
    );
  const [name, entry] = node.is === 'text' ? [node.text, undefined] : ([...node.entries][0] ?? []);
  const span = node.is === 'text' ? node.span : (entry?.key ?? head(node.span));
  if (name === undefined) return undefined;
  if (node.is === 'map' && node.entries.size > 1)
    return report.add(
      'RULE_SYNTAX',
      head(node.span),
      'one item asks for one work',
      'start a new `-` line for the next, and indent what this one takes',
    );
  const takes = references.works.get(name);
  if (!takes) return report.add('RULE_UNKNOWN_WORK', span, `there is no work \`${name}\``, suggest(name, references.works.keys()));
  const given = entry ? Fields.of(entry.value, `what \`${name}\` takes`, report) : undefined;
  if (entry && !given) return undefined;
  const args = new Map<string, Argument>();
  for (const parameter of takes) {
    const text = given?.text(parameter.name);
    if (!text)
      report.add(
        'RULE_MISSING_KEY',
        span,
        `\`${name}\` needs \`${parameter.name}\``,
        `add \`${parameter.name}: "…"\`${parameter.meaning ? `: ${parameter.meaning}` : ''}`,
      );
    const ast = expressionOf(text, report);
    const argument = ast && readArgument(ast, parameter, checker);
    if (argument) args.set(parameter.name, argument);
  }
  given?.done();
  return args.size === takes.length ? { work: name, arguments: args, span } : undefined;
}

function readArgument(ast: Ast, { type }: WorkParameter, checker: Checker): Argument | undefined {
  if (type.is === 'subject') {
    const of = checker.subject(ast, type.of);
    return of && { is: 'subject', of };
  }
  const num = type.is === 'number' ? checker.numberOf(ast, type.dimension) : undefined;
  return num && { is: 'number', of: num };
}
