/**
 * Reads a law pack: what one jurisdiction limits, each limit as a part of a kind that rules range over, with the text it is
 * from. A pack claims nothing by itself: its limits are in a check only where the request names it.
 */
import { type Report, suggest } from './diagnostics.ts';
import { allAttributes, readAttributeTexts, readId } from './dictionary-file.ts';
import { type References, readBasis } from './fields.ts';
import type { Jurisdiction, Kind, LegalLimit } from './tree.ts';
import { Fields, type YamlNode } from './yaml-reader.ts';

/** Kinds of limit are below this one. */
export const LIMIT = 'legal_limit';

export function readJurisdiction(
  fields: Fields,
  fileName: string,
  kinds: ReadonlyMap<string, Kind>,
  references: References,
  report: Report,
): Jurisdiction | undefined {
  const id = readId(fields, fileName, report);
  const title = fields.neededText('title', 'name the place as people call it');
  const note = fields.text('note')?.text;
  const limits = fields.list('limits').flatMap((node) => readLimit(node, kinds, references, report));
  fields.done();
  if (limits.length === 0) report.add('RULE_MISSING_KEY', fields.span, 'a law pack limits something', 'list its `limits`');
  return id === undefined ? undefined : { id, title: title?.text ?? id, ...(note !== undefined && { note }), limits, span: fields.span };
}

function readLimit(node: YamlNode, kinds: ReadonlyMap<string, Kind>, references: References, report: Report): LegalLimit[] {
  const fields = Fields.of(node, 'a limit', report);
  const kind = fields?.neededText('kind', 'name the kind of limit');
  if (!fields || !kind) return [];
  const attributes = readAttributeTexts(fields, kind.text, kinds, report);
  const basis = readBasis(fields, references, report);
  fields.done();
  const below = limitKinds(kinds);
  if (!below.includes(kind.text))
    report.add('RULE_UNKNOWN_NAME', kind.span, `there is no kind of limit \`${kind.text}\``, suggest(kind.text, below));
  else if (!basis.some(({ source }) => source !== undefined))
    report.add('RULE_NO_SOURCE', kind.span, 'this limit names no text of law', 'give `basis: [{ source: <id>, clause: … }]`');
  for (const [name, { default: standing }] of allAttributes(kinds, kind.text))
    if (!attributes.has(name) && standing === undefined && !typicalOf(kinds, kind.text, name))
      report.add('RULE_MISSING_KEY', kind.span, `this limit does not say \`${name}\``, `add \`${name}: …\` to its attributes`);
  return [{ kind: kind.text, attributes, basis }];
}

const limitKinds = (kinds: ReadonlyMap<string, Kind>): string[] =>
  [...kinds.values()].filter(({ id, abstract }) => !abstract && ancestors(kinds, id).includes(LIMIT)).map(({ id }) => id);

/** The kind and those above it; a ring is a fault of its own. */
function ancestors(kinds: ReadonlyMap<string, Kind>, id: string): string[] {
  const line: string[] = [];
  for (let at = kinds.get(id); at && !line.includes(at.id); at = at.is === undefined ? undefined : kinds.get(at.is)) line.push(at.id);
  return line;
}

const typicalOf = (kinds: ReadonlyMap<string, Kind>, kind: string, name: string): boolean =>
  ancestors(kinds, kind).some((id) => kinds.get(id)?.typical.has(name));
