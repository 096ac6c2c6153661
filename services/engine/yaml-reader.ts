/**
 * YAML with manners: every scalar is the text its author wrote (no guessing of numbers or truths), every node knows
 * where it stands, and what goes wrong silently elsewhere is a fault: duplicate keys, empty values, aliases, tags.
 */
import { type Document, isAlias, isMap, isScalar, isSeq, type Node, type Pair, parseDocument } from 'yaml';
import { type Report, suggest } from './diagnostics.ts';
import type { Source, Span } from './source.ts';

export type YamlNode = YamlMap | YamlList | YamlText;

export interface YamlText {
  readonly is: 'text';
  readonly text: string;
  readonly span: Span;
  /** Where in the source a part of the text stands. */
  part(start: number, end: number): Span;
}

export interface YamlList {
  readonly is: 'list';
  readonly items: readonly YamlNode[];
  readonly span: Span;
}

export interface YamlMap {
  readonly is: 'map';
  readonly entries: ReadonlyMap<string, { readonly key: Span; readonly value: YamlNode }>;
  readonly span: Span;
}

const LARGEST_FILE = 200_000;

/** Reads one file. What cannot be read is reported and left out. */
export function readYaml(source: Source, report: Report): YamlNode | undefined {
  const whole = { source, start: 0, end: Math.min(source.text.length, 1) };
  if (source.text.length > LARGEST_FILE)
    return report.add('RULE_TOO_LARGE', whole, `the file is over ${LARGEST_FILE} characters`, 'split it');
  const document: Document = parseDocument(source.text, { schema: 'failsafe', uniqueKeys: false, merge: false });
  for (const { pos, message } of document.errors) {
    report.add(
      'RULE_SYNTAX',
      { source, start: pos[0], end: Math.max(pos[1], pos[0] + 1) },
      firstLine(message),
      'mend the YAML; expressions go in quotes or in a block',
    );
  }
  if (document.errors.length > 0) return undefined;
  if (!document.contents) return report.add('RULE_NULL', whole, 'the file is empty', 'write it, or delete it');
  return convert(document.contents as Node, source, report);
}

const firstLine = (message: string): string => {
  const line = message.split('\n')[0] ?? message;
  return (line.charAt(0).toLowerCase() + line.slice(1)).replace(/ at line \d+, column \d+:?$/, '');
};

const FLOW_TRAP = 'in flow style YAML splits at commas and cuts at ` #`: put the expression in quotes';

function convert(node: Node, source: Source, report: Report): YamlNode | undefined {
  const span = spanOf(node, source);
  if (isAlias(node)) return report.add('RULE_ALIAS', span, 'aliases are not taken', 'write the value out');
  if ('anchor' in node && node.anchor) report.add('RULE_ALIAS', span, 'anchors are not taken', 'leave it out');
  if (node.tag?.startsWith('!')) report.add('RULE_ALIAS', span, 'tags are not taken', 'leave it out');
  if (isMap(node)) return convertMap(node.items as Pair<Node, Node>[], span, node.flow === true, report);
  if (isSeq(node)) {
    const items = (node.items as Node[]).map((item) => convert(item, source, report));
    return { is: 'list', items: items.filter((item) => item !== undefined), span };
  }
  if (!isScalar(node)) return report.add('RULE_SYNTAX', span, 'this cannot be read', 'write a text, a list or a mapping');
  return convertText(String(node.value ?? ''), node.type === 'PLAIN', span, report);
}

function convertText(text: string, plain: boolean, span: Span, report: Report): YamlText | undefined {
  if (plain && /^(|~|null)$/i.test(text))
    return report.add(
      'RULE_NULL',
      widen(span),
      'the value is empty',
      'give it a value, or leave the key out; a rule never has nothing in it',
    );
  return { is: 'text', text, span, part: (start, end) => partOf(text, span, start, end) };
}

const widen = (span: Span): Span =>
  span.end > span.start ? span : { ...span, start: Math.max(0, span.start - 1), end: Math.max(1, span.start) };

function convertMap(pairs: readonly Pair<Node, Node>[], span: Span, flow: boolean, report: Report): YamlMap {
  const entries = new Map<string, { key: Span; value: YamlNode }>();
  for (const { key, value } of pairs) {
    const at = spanOf(key, span.source);
    if (!isScalar(key)) {
      report.add('RULE_SYNTAX', at, 'a key is a text', 'write a plain key');
      continue;
    }
    const name = String(key.value);
    if (!value) {
      report.add('RULE_NULL', at, `\`${name}\` has no value`, flow ? FLOW_TRAP : 'give it a value, or leave it out');
      continue;
    }
    const read = convert(value, span.source, report);
    if (entries.has(name)) report.add('RULE_DUPLICATE_KEY', at, `\`${name}\` is here twice`, 'keep one of the two');
    else if (read) entries.set(name, { key: at, value: read });
  }
  return { is: 'map', entries, span };
}

function spanOf(node: Node, source: Source): Span {
  const [start, end] = node.range ?? [0, 1];
  return { source, start, end: Math.max(end, start) };
}

/** Finds the characters of a scalar in its source, past quotes, escapes, indents and folded lines. */
function partOf(text: string, span: Span, start: number, end: number): Span {
  const raw = span.source.text.slice(span.start, span.end);
  const straight = raw.indexOf(text);
  const offset = straight >= 0 ? (i: number) => straight + i : walk(raw, text);
  const from = span.start + offset(start);
  return { source: span.source, start: from, end: Math.max(from + 1, end > start ? span.start + offset(end - 1) + 1 : from + 1) };
}

/** Offsets in the raw text of each character of the value, matched one after another. */
function walk(raw: string, text: string): (i: number) => number {
  const offsets: number[] = [];
  let at = /^[|>]/.test(raw) ? raw.indexOf('\n') + 1 : 0;
  for (const char of text) {
    const next = char === ' ' || char === '\n' ? raw.slice(at).search(/[ \n]/) : raw.indexOf(char, at) - at;
    at += Math.max(0, next);
    for (let unit = 0; unit < char.length; unit++) offsets.push(at + unit);
    at += char.length;
  }
  return (i) => offsets[Math.min(i, offsets.length - 1)] ?? 0;
}

/** Reads the keys of one mapping, each by what it must be; keys nobody asked for are faults. */
export class Fields {
  readonly map: YamlMap;
  readonly #report: Report;
  readonly #asked = new Set<string>();

  constructor(map: YamlMap, report: Report) {
    this.map = map;
    this.#report = report;
  }

  static of(node: YamlNode | undefined, what: string, report: Report): Fields | undefined {
    if (node === undefined) return undefined;
    if (node.is === 'map') return new Fields(node, report);
    return report.add('RULE_TYPE', head(node.span), `${what} is a mapping`, 'write `key: value` lines');
  }

  get span(): Span {
    return head(this.map.span);
  }

  key(name: string): Span {
    return this.map.entries.get(name)?.key ?? this.span;
  }

  node(name: string): YamlNode | undefined {
    this.#asked.add(name);
    return this.map.entries.get(name)?.value;
  }

  needed(name: string, help: string): YamlNode | undefined {
    return this.node(name) ?? this.#report.add('RULE_MISSING_KEY', this.span, `\`${name}\` is missing`, help);
  }

  text(name: string): YamlText | undefined {
    const node = this.node(name);
    if (node === undefined || node.is === 'text') return node;
    return this.#report.add('RULE_TYPE', head(node.span), `\`${name}\` is a text`, 'write it on one line, in quotes if it has a colon');
  }

  neededText(name: string, help: string): YamlText | undefined {
    return this.needed(name, help) ? this.text(name) : undefined;
  }

  list(name: string): readonly YamlNode[] {
    const node = this.node(name);
    if (node === undefined) return [];
    if (node.is === 'list') return node.items;
    this.#report.add('RULE_TYPE', head(node.span), `\`${name}\` is a list`, 'write `- item` lines, or `[one, two]`');
    return [];
  }

  /** A list of texts. */
  texts(name: string): readonly YamlText[] {
    return this.list(name).flatMap((item) => {
      if (item.is === 'text') return [item];
      this.#report.add('RULE_TYPE', head(item.span), `\`${name}\` holds texts`, 'put it in quotes if it has a colon');
      return [];
    });
  }

  fields(name: string): Fields | undefined {
    return Fields.of(this.node(name), `\`${name}\``, this.#report);
  }

  /** A mapping whose keys are names. */
  entries(name: string): readonly (readonly [string, { readonly key: Span; readonly value: YamlNode }])[] {
    const fields = this.fields(name);
    return fields ? [...fields.map.entries] : [];
  }

  truth(name: string): boolean | undefined {
    const node = this.text(name);
    if (node === undefined) return undefined;
    if (node.text === 'yes' || node.text === 'true') return true;
    if (node.text === 'no' || node.text === 'false') return false;
    return this.#report.add('RULE_BAD_VALUE', node.span, `\`${node.text}\` is neither yes nor no`, 'write `yes` or `no`');
  }

  oneOf<T extends string>(name: string, values: readonly T[]): T | undefined {
    const node = this.text(name);
    if (node === undefined) return undefined;
    const found = values.find((value) => value === node.text);
    return (
      found ?? this.#report.add('RULE_BAD_VALUE', node.span, `\`${node.text}\` is not taken for \`${name}\``, suggest(node.text, values))
    );
  }

  /** Reports the keys that nobody asked for. */
  done(): void {
    for (const [name, { key }] of this.map.entries) {
      if (!this.#asked.has(name))
        this.#report.add(
          'RULE_UNKNOWN_KEY',
          key,
          `there is no key \`${name}\` here`,
          name.endsWith(')') ? FLOW_TRAP : suggest(name, this.#asked),
        );
    }
  }
}

/** The first line of a span, to point at a mapping or list without underlining all of it. */
export function head(span: Span): Span {
  const line = span.source.text.indexOf('\n', span.start);
  return { ...span, end: line < 0 ? span.end : Math.max(span.start + 1, Math.min(span.end, line)) };
}
