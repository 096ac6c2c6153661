/** Reads the files that say what there is: kinds of part, quantities, sources, cautions, frames, classes. */
import { findUnit, NONE, parseQuantity } from '../units/index.ts';
import { type Report, suggest } from './diagnostics.ts';
import { type References, readCautions, readMeasuring, readQuantity, readType } from './fields.ts';
import type { Span } from './source.ts';
import type {
  Attribute,
  Bound,
  ClassDefaults,
  ClassPart,
  Frame,
  Kind,
  Measuring,
  MeasuringPosition,
  Quantity,
  Source as Reference,
  Shape,
  Signature,
  SubjectType,
  Type,
} from './tree.ts';
import { CODES } from './tree.ts';
import { Fields, head, type YamlNode, type YamlText } from './yaml-reader.ts';

type Cautions = Pick<References, 'cautions'>;

const LENGTH = findUnit('mm')?.dimension ?? NONE;

const NAME = /^[a-z][a-z0-9_]*$/;

/** A file that maps names to entries. */
export function readEntries<T>(node: YamlNode, report: Report, read: (name: string, fields: Fields) => T | undefined): Map<string, T> {
  const found = new Map<string, T>();
  if (node.is !== 'map') {
    report.add('RULE_TYPE', head(node.span), 'this file maps names to entries', 'write `name:` and its keys below');
    return found;
  }
  for (const [name, { key, value }] of node.entries) {
    const fields = Fields.of(value, `\`${name}\``, report);
    const entry = fields && read(name, fields);
    fields?.done();
    if (entry) found.set(name, entry);
    else if (fields && report.size === 0) report.add('RULE_BAD_VALUE', key, `\`${name}\` cannot be read`, 'mend what stands below it');
  }
  return found;
}

export function readReference(id: string, fields: Fields): Reference | undefined {
  const title = fields.neededText('title', 'name the document');
  const kind = fields.oneOf('kind', ['standard', 'law', 'handbook', 'textbook', 'data']);
  const read = fields.oneOf('read', ['seen', 'second-hand', 'memory']);
  fields.needed('kind', 'standard, law, handbook, textbook or data');
  fields.needed('read', 'say whether it was seen, is second-hand or from memory');
  const [clause, edition, on] = [fields.text('clause')?.text, fields.text('edition')?.text, fields.text('on')?.text];
  return (
    title &&
    kind &&
    read && { id, title: title.text, kind, read, ...(clause && { clause }), ...(edition && { edition }), ...(on && { on }) }
  );
}

export function readFrame(id: string, fields: Fields): Frame | undefined {
  const title = fields.neededText('title', 'name the frame');
  const on = fields.text('on')?.text;
  return title && { id, title: title.text, ...(on && { on }) };
}

export function readMeasuringPosition(id: string, fields: Fields, cautions: Cautions, report: Report): MeasuringPosition | undefined {
  const title = fields.neededText('title', 'say where the vehicle stands');
  const minutes = fields.neededText('minutes', 'how long it takes to get there');
  const [suspension, tools] = (['suspension', 'tools'] as const).map((key) => fields.texts(key).map(({ text }) => text)) as [
    string[],
    string[],
  ];
  const otherwise = fields.truth('otherwise') ?? false;
  const known = readCautions(fields, cautions, report);
  if (minutes && !(Number(minutes.text) >= 0))
    report.add('RULE_BAD_VALUE', minutes.span, `\`${minutes.text}\` is no number of minutes`, 'write a plain number');
  return title && minutes && { id, title: title.text, minutes: Number(minutes.text), suspension, tools, otherwise, cautions: known };
}

/** What attributes and quantities have in common. */
function readSignature(name: string, fields: Fields, cautions: Cautions, report: Report): Signature | undefined {
  if (!NAME.test(name)) report.add('RULE_BAD_VALUE', fields.span, `\`${name}\` cannot be a name`, 'write it in snake_case');
  const title = fields.neededText('title', 'name it for people');
  const meaning = fields.neededText('meaning', 'say what it means, so that two people read the same thing');
  const typed = readType(fields, report);
  if (!typed) return undefined;
  const { type, unit } = typed;
  const dimension = type.is === 'number' ? type.dimension : NONE;
  const range = fields.fields('range');
  const [atLeast, atMost] = [
    readQuantity(range?.text('at_least'), dimension, report)?.value,
    readQuantity(range?.text('at_most'), dimension, report)?.value,
  ];
  range?.done();
  const typical = readQuantity(fields.text('typical'), dimension, report);
  const measure = readMeasuring(fields.fields('measure'), type, cautions, report);
  const code = fields.oneOf('code', CODES);
  return {
    name,
    title: title?.text ?? name,
    meaning: meaning?.text ?? '',
    type,
    ...(unit && { unit }),
    ...(range && { range: { ...(atLeast !== undefined && { atLeast }), ...(atMost !== undefined && { atMost }) } }),
    ...(typical && { typical: { value: typical.value, plusMinus: typical.plusMinus } }),
    ...(measure && { measure }),
    ...(code && { code }),
    span: fields.span,
  };
}

/**
 * One quantity; with `point: yes` three, since a point of the vehicle's axes is known by its coordinates; with
 * `also_before: yes` three, since what parts change can be asked of the vehicle as it stands (`…_fitted`) and stated of
 * it as it was built (`…_as_built`). With `unladen: yes` the vehicle as it stands is told of with nobody and nothing in it,
 * and the planned one with its load.
 */
export function readQuantityEntry(name: string, fields: Fields, cautions: Cautions, report: Report): readonly Quantity[] | undefined {
  const [point, alsoBefore] = [fields.truth('point') ?? false, fields.truth('also_before') ?? false];
  const unladen = fields.truth('unladen') ?? false;
  const quantity = readOneQuantity(name, fields, cautions, report);
  if (quantity && alsoBefore) {
    const planned = unladen ? loaded(quantity, WITH_ITS_LOAD) : quantity;
    const before = {
      name: `${name}_fitted`,
      title: `${quantity.title}, as it stands`,
      meaning: `${quantity.meaning}; before the planned parts`,
    };
    const { measure, cost: _, ...built } = quantity;
    const { with: __, ...asItStands } = (unladen ? loaded(quantity, EMPTY).measure : measure) ?? {};
    const asBuilt = {
      name: `${name}_as_built`,
      title: `${quantity.title}, as built`,
      meaning: `${quantity.meaning}; as it left the factory`,
    };
    return [
      planned,
      { ...built, ...(measure && { measure: asItStands as Measuring }), ...before, ...(unladen && { unladen }), comes: 'either' },
      { ...built, ...asBuilt, comes: 'given' },
    ];
  }
  if (!quantity || !point) return quantity && [quantity];
  return COORDINATES.map(({ suffix, way }) => ({ ...quantity, name: `${name}_${suffix}`, title: `${quantity.title}, ${way}` }));
}

const EMPTY = 'with nobody and nothing in it but what is always on it';
const WITH_ITS_LOAD = 'with the people and the load of this check in it';

/** The same, read with the vehicle laden so. */
const loaded = (quantity: Quantity, how: string): Quantity =>
  quantity.measure ? { ...quantity, measure: { ...quantity.measure, how: `${quantity.measure.how}; ${how}` } } : quantity;

/** ISO 8855. */
const COORDINATES = [
  { suffix: 'x', way: 'forward' },
  { suffix: 'y', way: 'to the left' },
  { suffix: 'z', way: 'up' },
] as const;

/** The names and texts of a point's coordinates, `"8, 728, 212 mm ± 20"`; undefined if the text is not of three. */
export function coordinatesOf(name: string, text: string): (readonly [name: string, text: string])[] | undefined {
  const match = /^([^,]+),([^,]+),\s*([^\s,]+)\s*(.*)$/.exec(text.trim());
  if (!match) return undefined;
  const [, x, y, z, rest] = match as unknown as readonly string[];
  return [x, y, z].map((number, i) => [`${name}_${COORDINATES[i]?.suffix}`, `${number?.trim()} ${rest}`.trim()] as const);
}

/** Whether a name is that of a point: its coordinates are quantities. */
export const isPoint = (quantities: ReadonlyMap<string, Quantity>, name: string): boolean =>
  !quantities.has(name) && COORDINATES.every(({ suffix }) => quantities.has(`${name}_${suffix}`));

function readOneQuantity(name: string, fields: Fields, cautions: Cautions, report: Report): Quantity | undefined {
  const signature = readSignature(name, fields, cautions, report);
  const comes = fields.oneOf('comes', ['given', 'computed', 'either', 'state']);
  fields.needed('comes', 'given, computed, either or state');
  const [cost, sided, unread] = ['cost', 'sided', 'unread'].map((key) => fields.truth(key) ?? false) as [boolean, boolean, boolean];
  const per = readPer(fields);
  if (!signature || !comes) return undefined;
  const initially = readStanding('initially', signature, fields, report);
  if (comes === 'state' && initially === undefined)
    report.add('RULE_MISSING_KEY', fields.span, `\`${name}\` has no beginning`, 'add `initially`');
  const never = [...readBounds('above', fields), ...readBounds('below', fields)];
  const beginning = typeof initially !== 'string' && initially !== undefined && { initially };
  const flags = { ...(cost && { cost }), ...(sided && { sided }), ...(unread && { unread }) };
  return { ...signature, per, comes, ...flags, ...beginning, ...(never.length > 0 && { never }) };
}

/** `never_above: [tyre_gap_at_ride]`, or `[sum of axle_rating]` for all axles together. */
const readBounds = (is: Bound['is'], fields: Fields): Bound[] =>
  fields.texts(`never_${is}`).map(({ text, span }) => {
    const sum = text.startsWith(SUM);
    return { is, name: sum ? text.slice(SUM.length).trim() : text, sum, span };
  });

const SUM = 'sum of ';

/** `per: axle`, `per: brake_hose`, or a list of both. */
function readPer(fields: Fields): SubjectType[] {
  const node = fields.needed('per', 'vehicle, axle, corner or a kind of part');
  const texts =
    node === undefined ? [] : node.is === 'list' ? fields.texts('per') : [fields.text('per')].filter((text) => text !== undefined);
  return texts.flatMap(({ text }): SubjectType[] => {
    if (text === 'vehicle') return [];
    return [text === 'axle' || text === 'corner' ? { is: text } : { is: 'part', kind: text }];
  });
}

/** A value that stands until something else is said: a number with its unit, yes or no, or a text. */
function readStanding(key: string, { type }: Signature, fields: Fields, report: Report): number | boolean | string | undefined {
  if (type.is === 'truth') return fields.truth(key);
  if (type.is === 'text') return fields.text(key)?.text;
  return type.is === 'number' ? readQuantity(fields.text(key), type.dimension, report)?.value : undefined;
}

export function readKind(fields: Fields, fileName: string, cautions: Cautions, report: Report): Kind | undefined {
  const id = readId(fields, fileName, report);
  const title = fields.neededText('title', 'name it for people');
  const is = fields.text('is')?.text;
  const fits = fields.oneOf('fits', ['vehicle', 'axle', 'corner']);
  const frame = fields.text('frame')?.text;
  const bridgesTo = fields.text('bridges_to')?.text;
  const raises = readRaises(fields.fields('raises'));
  const attributes = new Map<string, Attribute>();
  for (const [name, { value }] of fields.entries('attributes')) {
    const entry = Fields.of(value, `\`${name}\``, report);
    const signature = entry && readSignature(name, entry, cautions, report);
    const standing = entry && signature && readStanding('default', signature, entry, report);
    const other = entry?.text('also_said_as');
    entry?.done();
    if (other && !fields.entries('attributes').some(([each]) => String(each) === other.text && each !== name))
      report.add('RULE_UNKNOWN_NAME', other.span, `there is no other attribute \`${other.text}\` here`, 'name one of the same kind');
    const said = { ...(standing !== undefined && { default: standing }), ...(other && { alsoSaidAs: `${id}.${other.text}` }) };
    if (signature) attributes.set(name, { ...signature, ...said });
  }
  const typical = readTypical(fields, 'typical', report);
  // Calls of works are read once there are works.
  fields.node('fitting');
  const [onePerPlace, abstract] = [fields.truth('one_per_place') ?? false, fields.truth('abstract') ?? false];
  const roundTheTyre = fields.truth('round_the_tyre') ?? false;
  fields.done();
  if (id === undefined) return undefined;
  return {
    id,
    title: title?.text ?? id,
    ...(is !== undefined && { is }),
    fits: fits ?? 'vehicle',
    onePerPlace,
    abstract,
    ...(roundTheTyre && { roundTheTyre }),
    frame: frame ?? 'chassis',
    ...(bridgesTo !== undefined && { bridgesTo }),
    ...(raises && { raises }),
    typical,
    attributes,
    span: fields.span,
  };
}

/** Usual values of attributes, each in a unit of its own. */
const readTypical = (fields: Fields, key: string, report: Report): Kind['typical'] =>
  new Map(
    fields.entries(key).flatMap(([name, { value }]) => {
      const read = value.is === 'text' ? readQuantity(value, undefined, report) : undefined;
      return read ? [[name, read] as const] : [];
    }),
  );

/** Those of a class, by kind of part. */
function readTypicalByKind(fields: Fields, kinds: ReadonlyMap<string, Kind>, report: Report): ClassDefaults['typical'] {
  const ofKinds = fields.fields('typical');
  const found = fields.entries('typical').map(([kind, { key }]) => {
    if (!kinds.has(kind)) report.add('RULE_UNKNOWN_NAME', key, `there is no kind \`${kind}\``, suggest(kind, kinds.keys()));
    return [kind, ofKinds ? readTypical(ofKinds, kind, report) : new Map()] as const;
  });
  ofKinds?.done();
  return new Map(found);
}

function readRaises(fields: Fields | undefined): Kind['raises'] {
  const [frame, against, by] = (['frame', 'against', 'by'] as const).map(
    (key) => fields?.neededText(key, 'a frame, the one it is raised against, and the attribute that says by how much')?.text,
  );
  fields?.done();
  return frame !== undefined && against !== undefined && by !== undefined ? { frame, against, by } : undefined;
}

/** The id of a file with one thing in it, which is also the file's name. */
export function readId(fields: Fields, fileName: string, report: Report): string | undefined {
  const id = fields.neededText('id', `add \`id: ${fileName}\``);
  if (id && id.text !== fileName)
    report.add(
      'RULE_BAD_VALUE',
      id.span,
      `the id \`${id.text}\` is not the file's name`,
      `name the file \`${id.text}.yaml\`, or write \`id: ${fileName}\``,
    );
  return id?.text;
}

/** Values of a class stay texts: the assembly reads them as it reads what people give. Here they are only checked. */
export function readClass(
  fields: Fields,
  fileName: string,
  kinds: ReadonlyMap<string, Kind>,
  quantities: ReadonlyMap<string, Quantity>,
  places: PlaceNames,
  report: Report,
): ClassDefaults | undefined {
  const id = readId(fields, fileName, report);
  const title = fields.neededText('title', 'name the class');
  const note = fields.text('note')?.text;
  const values = new Map<string, ReadonlyMap<string, string>>();
  for (const [name, { key, value }] of fields.entries('values')) {
    const point = isPoint(quantities, name);
    const quantity = quantities.get(point ? `${name}_x` : name);
    if (!quantity) report.add('RULE_UNKNOWN_NAME', key, `there is no quantity \`${name}\``, suggest(name, quantities.keys()));
    else values.set(name, readByPlace(value, { name, key }, quantity, point, places, report));
  }
  const typical = readTypicalByKind(fields, kinds, report);
  const positions = fields.list('positions').flatMap((node) => readPosition(node, kinds, places, report));
  const fitted = fields.list('fitted').flatMap((node) => readFitted(node, kinds, places, report));
  fields.done();
  return id === undefined
    ? undefined
    : { id, title: title?.text ?? id, ...(note !== undefined && { note }), values, typical, positions, fitted, span: fields.span };
}

type PlaceNames = ReadonlyMap<string, 'vehicle' | 'axle' | 'corner'>;

const LEVELS = ['vehicle', 'axle', 'corner'] as const;

function readByPlace(
  value: YamlNode,
  { name, key }: { readonly name: string; readonly key: Span },
  { type, per, comes }: Quantity,
  point: boolean,
  placeNames: PlaceNames,
  report: Report,
): Map<string, string> {
  const [of] = per;
  if (comes === 'computed') report.add('RULE_TYPE', key, `\`${name}\` is computed`, 'give what it is computed from');
  if (of?.is === 'part' || per.length > 1) report.add('RULE_TYPE', key, `\`${name}\` belongs to a part`, 'give it under `fitted`');
  const finest = LEVELS.indexOf((of?.is ?? 'vehicle') as (typeof LEVELS)[number]);
  const places =
    value.is === 'map' ? [...value.entries].map(([place, entry]) => [place, entry.value] as const) : [['vehicle', value] as const];
  return new Map(
    places.flatMap(([place, node]) => {
      const level = placeNames.get(place);
      if (place !== 'all' && (level === undefined || LEVELS.indexOf(level) > finest))
        report.add('RULE_UNKNOWN_NAME', head(node.span), `\`${name}\` has no value at \`${place}\``, suggest(place, placeNames.keys()));
      if (node.is !== 'text') {
        report.add('RULE_TYPE', head(node.span), 'a value is a text', 'write `3200 mm ± 70`');
        return [];
      }
      if (point) checkPoint(node, type, report);
      else checkValue(node, type, report);
      return [[place, node.text] as const];
    }),
  );
}

/** Whether a text can be read as a value of that type. */
function checkValue(node: YamlText, type: Type, report: Report): void {
  if (type.is === 'number') readQuantity(node, type.dimension, report);
  if (type.is === 'truth' && !['yes', 'no', 'true', 'false'].includes(node.text))
    report.add('RULE_BAD_VALUE', node.span, `\`${node.text}\` is neither yes nor no`, 'write `"yes"` or `"no"`');
  if (type.is === 'text' && type.oneOf && !type.oneOf.includes(node.text))
    report.add('RULE_BAD_VALUE', node.span, `\`${node.text}\` is not one of its values`, suggest(node.text, type.oneOf));
}

function checkPlace(at: YamlText | undefined, places: PlaceNames, report: Report): void {
  if (at && at.text !== 'all' && !places.has(at.text))
    report.add('RULE_UNKNOWN_NAME', at.span, `there is no place \`${at.text}\``, suggest(at.text, places.keys()));
}

function checkPoint(node: YamlText, type: Type, report: Report): void {
  const texts = coordinatesOf('', node.text);
  const dimension = type.is === 'number' ? type.dimension : undefined;
  const wrong = texts?.map(([, text]) => parseQuantity(text, dimension)).find((parsed) => !parsed.ok);
  if (!texts) report.add('RULE_BAD_VALUE', node.span, 'this is not a point', 'write x, y, z with one unit: `8, 728, 212 mm ± 20`');
  else if (wrong && !wrong.ok) report.add('RULE_BAD_VALUE', node.span, wrong.fault.message, wrong.fault.help);
}

function readPosition(
  node: YamlNode,
  kinds: ReadonlyMap<string, Kind>,
  places: PlaceNames,
  report: Report,
): { kind: string; at: string }[] {
  const fields = Fields.of(node, 'a position', report);
  const kind = fields?.neededText('kind', 'name the kind that must be there');
  const at = fields?.text('at');
  checkPlace(at, places, report);
  fields?.done();
  if (kind && !kinds.has(kind.text))
    report.add('RULE_UNKNOWN_NAME', kind.span, `there is no kind \`${kind.text}\``, suggest(kind.text, kinds.keys()));
  return kind ? [{ kind: kind.text, at: at?.text ?? 'vehicle' }] : [];
}

function readFitted(node: YamlNode, kinds: ReadonlyMap<string, Kind>, places: PlaceNames, report: Report): ClassPart[] {
  const fields = Fields.of(node, 'a fitted part', report);
  const kind = fields?.neededText('kind', 'name its kind');
  const id = fields?.neededText('id', 'name it');
  const [name, where] = [fields?.text('name')?.text, fields?.text('at')];
  checkPlace(where, places, report);
  const at = where?.text;
  const shape = readShape(fields?.fields('shape'), report);
  const attributes = fields ? readAttributeTexts(fields, kind?.text, kinds, report) : new Map<string, string>();
  fields?.done();
  if (kind && !kinds.has(kind.text))
    report.add('RULE_UNKNOWN_NAME', kind.span, `there is no kind \`${kind.text}\``, suggest(kind.text, kinds.keys()));
  return kind && id
    ? [
        {
          id: id.text,
          kind: kind.text,
          ...(name !== undefined && { name }),
          ...(at !== undefined && { at }),
          attributes,
          ...(shape && { shape }),
        },
      ]
    : [];
}

/** Attributes of a part of a kind, as texts that can be read as what each must be. */
export function readAttributeTexts(
  fields: Fields,
  kind: string | undefined,
  kinds: ReadonlyMap<string, Kind>,
  report: Report,
): Map<string, string> {
  const attributes = new Map<string, string>();
  const known = kind ? allAttributes(kinds, kind) : new Map<string, Attribute>();
  for (const [attribute, { key, value }] of fields.entries('attributes')) {
    const signature = known.get(attribute);
    if (!signature) report.add('RULE_UNKNOWN_NAME', key, `there is no attribute \`${attribute}\``, suggest(attribute, known.keys()));
    else if (value.is !== 'text') report.add('RULE_TYPE', head(value.span), 'a value is a text', 'write `443 mm ± 20`');
    else {
      checkValue(value, signature.type, report);
      attributes.set(attribute, value.text);
    }
  }
  return attributes;
}

/** Runs of straight pieces and flat patches, with points as texts; the left corner's, as at design height. */
function readShape(fields: Fields | undefined, report: Report): Shape | undefined {
  if (!fields) return undefined;
  const length = (key: string): number => readQuantity(fields.text(key), LENGTH, report)?.value ?? 0;
  const [radius, plusMinus] = [length('radius'), length('plus_minus')];
  const [lines, patches] = [readRuns(fields, 'lines', report), readRuns(fields, 'patches', report)];
  fields.done();
  if (lines.length + patches.length === 0)
    report.add('RULE_BAD_VALUE', fields.span, 'this shape has no points', 'give `lines` or `patches`');
  return { radius, plusMinus, lines, patches };
}

function readRuns(fields: Fields, key: string, report: Report): Shape['lines'] {
  return fields.list(key).map((run) => {
    if (run.is !== 'list') {
      report.add('RULE_TYPE', head(run.span), 'a run is a list of points', 'write `- ["500, 640, 380 mm", "495, 720, 380 mm"]`');
      return [];
    }
    return run.items.map((item) => (item.is === 'text' ? readPoint(item, report) : [0, 0, 0]));
  });
}

function readPoint(node: YamlText, report: Report): readonly [number, number, number] {
  const read = (coordinatesOf('', node.text) ?? []).map(([, text]) => parseQuantity(text, LENGTH));
  if (read.length !== 3 || read.some((parsed) => !parsed.ok))
    report.add('RULE_BAD_VALUE', node.span, 'this is not a point', 'write x, y, z with one unit: `8, 728, 212 mm`');
  const [x = 0, y = 0, z = 0] = read.map((parsed) => (parsed.ok ? parsed.measure.value : 0));
  return [x, y, z];
}

export function allAttributes(kinds: ReadonlyMap<string, Kind>, kind: string): Map<string, Attribute> {
  const found = new Map<string, Attribute>();
  const seen = new Set<string>();
  for (let at = kinds.get(kind); at && !seen.has(at.id); at = at.is === undefined ? undefined : kinds.get(at.is)) {
    seen.add(at.id);
    for (const [name, attribute] of at.attributes) if (!found.has(name)) found.set(name, attribute);
  }
  return found;
}
