/** From the cells of a build to what a check is asked with. What cannot be read is a fault of its row and column; nothing is guessed. */

import type { Library } from '../engine/tree.ts';
import { parseDesignation } from '../models/tyres/designation.ts';
import { type Dimension, findUnit, parseQuantity } from '../units/index.ts';
import { attributesOf, isKind } from '../vehicle/library-view.ts';
import type {
  CheckRequest,
  InlineVehicle,
  LoadItem,
  PartInput,
  PlaceInput,
  RequestFault,
  ValueInput,
  VehicleReading,
} from '../vehicle/request.ts';
import type { Column, Columns } from './columns.ts';
import type { Headings, PartTarget, Target } from './headings.ts';
import { signatureOf } from './headings.ts';
import { LONGEST_CELL, type TableRow } from './table.ts';

/** Finds what cells name: by id, or by its whole name. */
export interface Names {
  vehicle(text: string): Promise<{ readonly from: 'catalogue' | 'class'; readonly id: string } | undefined>;
  part(text: string): Promise<{ readonly id: string; readonly kind: string } | undefined>;
  /** Ids of what is spelt or called much like it, the nearest first. */
  like(noun: 'vehicle' | 'part', text: string): Promise<readonly string[]>;
}

export interface RowFault {
  readonly row: number;
  readonly column?: string;
  readonly message: string;
  readonly help: string;
  /** A row of totals: nothing is wrong with it, and it is no build. */
  readonly leftAlone?: true;
  /** What is to be known of a row that was checked. */
  readonly remark?: true;
}

export interface ReadBuild {
  /** Absent when a cell of it cannot be read. */
  readonly request?: CheckRequest;
  readonly faults: readonly RowFault[];
  /** What was assumed of it, and which of its cells were not read. */
  readonly remarks: readonly string[];
  /** Where a fault of the request stands in the table. */
  locate(fault: RequestFault): RowFault;
}

/** What every row of a table is asked with. */
export interface Asking {
  readonly units: 'metric' | 'us';
  /** Of rows that name none. */
  readonly vehicle?: string;
}

export const ALSO = ['axle_load_change', 'current_added'] as const;

interface Cell {
  readonly row: number;
  readonly column: Column;
  readonly text: string;
}

type Draft = { -readonly [K in keyof Extract<PartInput, { from: 'inline' }>]: Extract<PartInput, { from: 'inline' }>[K] } & {
  attributes: Record<string, ValueInput>;
  catalogue?: string;
};

/** The rows are one build's; where a row is a build, it is one row. */
export async function readBuild(rows: readonly TableRow[], columns: Columns, reader: RowReader, asking: Asking): Promise<ReadBuild> {
  return new Reading(columns, reader, asking).read(rows);
}

export interface RowReader {
  readonly headings: Headings;
  readonly names: Names;
  readonly library: Library;
}

class Reading {
  readonly #columns: Columns;
  readonly #reader: RowReader;
  readonly #asking: Asking;
  readonly #faults: RowFault[] = [];
  readonly #parts: Draft[] = [];
  readonly #byColumn = new Map<string, Draft>();
  readonly #values: [Target & { is: 'value' }, string][] = [];
  readonly #readings: VehicleReading[] = [];
  readonly #load: Partial<Record<'mass' | 'behind_front_axle', string>> = {};
  /** Pointers into the request, with the cell that gave what is there. */
  readonly #places: [string, Cell][] = [];
  readonly #once = new Map<string, Cell>();
  /** What of the build a cell has said already, so that two columns that say otherwise are told, both by name. */
  readonly #said = new Map<string, { readonly cell: Cell; readonly value: string; readonly dimension: Dimension | undefined }>();
  /** Cells under headings that say nothing we know. */
  readonly #unread: Cell[] = [];
  /** Where parts are named among others, and where each has a column of its own. */
  readonly #listed = new Map<string, Cell>();
  readonly #alone = new Map<string, Cell>();
  readonly #remarks: string[] = [];

  constructor(columns: Columns, reader: RowReader, asking: Asking) {
    this.#columns = columns;
    this.#reader = reader;
    this.#asking = asking;
  }

  async read(rows: readonly TableRow[]): Promise<ReadBuild> {
    for (const row of rows) await this.#row(row);
    const first = rows[0]?.n ?? 0;
    const vehicle = await this.#vehicle(first);
    const { people, speed } = { people: this.#people(), speed: this.#once.get('speed') };
    const items = this.#items(first);
    const located = (fault: RequestFault): RowFault => this.#locate(fault, first);
    this.#tellUnread();
    if (this.#faults.length > 0 || !vehicle) return { faults: this.#faults, remarks: [], locate: located };
    if (people === undefined) this.#remarks.push('nobody was said to ride in it: the driver alone was counted');
    const request: CheckRequest = {
      vehicle,
      ...(this.#parts.length > 0 && { parts: this.#parts.map(partOf) }),
      load: { occupants: people ?? DRIVER_ALONE, ...(items.length > 0 && { items }) },
      ...(speed && { use: { top_speed: this.#quantity(speed) } }),
      units: this.#asking.units,
      also: ALSO,
    };
    if (speed) this.#places.push(['/use/top_speed', speed]);
    return { request, faults: [], remarks: this.#remarks, locate: located };
  }

  async #row({ n, cells }: TableRow): Promise<void> {
    const said: Cell[] = this.#columns.all.flatMap((column) => {
      const text = (cells[column.index] ?? '').trim();
      if (text.length > LONGEST_CELL) {
        this.#fault(
          { row: n, column },
          `the cell is longer than ${LONGEST_CELL} characters`,
          'a cell of a spreadsheet holds no more; shorten it',
        );
        return [];
      }
      if (column.near !== undefined && text !== '')
        this.#fault(
          { row: n, column },
          `\`${column.heading}\` is no heading that is read`,
          `did you mean \`${column.near}\`? Rename it, or empty it`,
        );
      else if (!column.target && text !== '') this.#unreadCell({ row: n, column, text });
      if (!column.target || text === '') return [];
      if (SPREADSHEET_ERROR.test(text)) {
        this.#fault({ row: n, column }, `\`${text}\` is an error of the spreadsheet`, 'mend the formula of the cell, or empty it');
        return [];
      }
      return [{ row: n, column, text }];
    });
    if (this.#columns.rows === 'part') await this.#partRow(said, n);
    for (const cell of said) await this.#cell(cell);
  }

  #fault({ row, column }: Pick<Cell, 'row'> & { column?: Column }, message: string, help: string): undefined {
    this.#faults.push({ row, ...(column && { column: column.heading }), message, help });
    return undefined;
  }

  /** A figure under a heading that speaks of parts or has a unit says something of the build: without it the row is not checked. */
  #unreadCell(cell: Cell): void {
    const { heading, like, unit } = cell.column;
    if (/\d/.test(cell.text) && (like !== undefined || unit !== undefined))
      this.#fault(
        cell,
        `\`${heading}\` is no heading that is read, and its figure would be left out`,
        like === undefined
          ? 'name it as one of /v1/sheets/headings, give it as a part or a load, or empty it'
          : `${namedAs(like)}; rename it, or empty it`,
      );
    else this.#unread.push(cell);
  }

  #tellUnread(): void {
    const headings = new Set(this.#unread.map(({ column }) => column.heading.trim() || `column ${column.index + 1}`));
    if (headings.size > 0) this.#remarks.push(`not read: ${[...headings].map((heading) => heading.slice(0, 60)).join(', ')}`);
  }

  async #cell(cell: Cell): Promise<void> {
    const { target } = cell.column;
    switch (target?.is) {
      case 'vehicle':
      case 'class':
      case 'people':
      case 'speed':
        return this.#single(target.is, cell);
      case 'load':
        this.#single(`load ${target.field}`, cell);
        this.#load[target.field] = this.#quantity(cell);
        return;
      case 'parts':
        return this.#list(cell);
      case 'part':
        for (const each of [target, ...(target.with ? [{ is: 'part' as const, ...target.with }] : [])]) await this.#part(each, cell);
        return;
      case 'value':
        if (!this.#saysFirst(`value ${target.quantity} ${target.place ?? ''}`, this.#quantity(cell), cell)) return;
        this.#places.push([`/vehicle/values/${target.quantity}`, cell]);
        this.#values.push([target, this.#quantity(cell)]);
        return;
      case 'reading':
        if (!this.#saysFirst(`reading ${target.quantity} ${target.of ?? ''}`, this.#quantity(cell), cell)) return;
        this.#places.push([`/vehicle/measured/${this.#readings.length}`, cell]);
        this.#readings.push({ quantity: target.quantity, ...(target.of && { of: target.of }), value: this.#quantity(cell) });
        return;
      default:
    }
  }

  /** Whether nothing has said it yet; what says otherwise than another cell is a fault that names both columns. */
  #saysFirst(key: string, value: string, cell: Cell): boolean {
    const before = this.#said.get(key);
    const dimension = this.#dimensionOf(cell);
    if (!before) this.#said.set(key, { cell, value, dimension });
    else if (!isSame(before.value, value, dimension ?? before.dimension)) this.#otherwise(cell, before.cell);
    return before === undefined;
  }

  #dimensionOf({ column }: Cell): Dimension | undefined {
    const signature = column.target && signatureOf(column.target, this.#reader.library);
    return signature?.type.is === 'number' ? signature.type.dimension : undefined;
  }

  #otherwise(cell: Cell, before: Cell): undefined {
    const where = before.row === cell.row ? `\`${before.column.heading}\`` : `row ${before.row}, \`${before.column.heading}\`,`;
    return this.#fault(
      cell,
      `\`${cell.column.heading}\` says \`${cell.text}\` and ${where} says \`${before.text}\` of the same thing`,
      before.row === cell.row ? 'leave one of the two columns empty' : 'say it once, or the same in every row of the build',
    );
  }

  /** What a build says once; in a table of parts each row may say it again, not otherwise. */
  #single(key: string, cell: Cell): void {
    const before = this.#once.get(key);
    if (before && !isSame(this.#quantity(before), this.#quantity(cell), this.#dimensionOf(cell))) this.#otherwise(cell, before);
    else this.#once.set(key, before ?? cell);
  }

  /** A bare number in a column with a unit has that unit; anything else is read as it stands. */
  #quantity({ text, column }: Cell): string {
    const signature = column.target && signatureOf(column.target, this.#reader.library);
    if (signature?.type.is === 'text') return text;
    const thousands = THOUSANDS.exec(text);
    const unit = thousands?.[2] ?? column.unit ?? (column.target?.is === 'part' ? column.target.thousands : undefined);
    if (thousands && unit !== undefined) return `${Number(thousands[1]) * 1000} ${unit}`;
    const [, value, tolerance] = BARE.exec(text) ?? [];
    if (value === undefined || column.unit === undefined) return text;
    return `${value} ${column.unit}${tolerance === undefined ? '' : ` ± ${tolerance} ${column.unit}`}`;
  }

  #people(): number | undefined {
    const cell = this.#once.get('people');
    if (!cell) return undefined;
    const n = Number(cell.text);
    if (Number.isInteger(n) && n >= 0 && n <= 20) return n;
    return this.#fault(cell, `\`${cell.text}\` is not a number of people`, 'write a whole number from 0 to 20');
  }

  async #vehicle(row: number): Promise<CheckRequest['vehicle'] | undefined> {
    const { names } = this.#reader;
    const [named, classed] = [this.#once.get('vehicle'), this.#once.get('class')];
    const text = named?.text ?? this.#asking.vehicle;
    const found = text === undefined ? undefined : await this.#reader.names.vehicle(text);
    if (found?.from === 'catalogue') {
      if (named) this.#places.push(['/vehicle', named]);
      const measured = [
        ...this.#readings,
        ...this.#values.map(([{ quantity, place }, value], i) => this.#asReading(quantity, place, value, i)),
      ];
      return { from: 'catalogue', vehicle: found.id, ...(measured.length > 0 && { measured }) };
    }
    const ofClass = classed && (await names.vehicle(classed.text));
    const className = (ofClass?.from === 'class' ? ofClass.id : classed?.text) ?? (found?.from === 'class' ? found.id : undefined);
    const misnamed = className === undefined && text === undefined ? await this.#vehicleElsewhere() : undefined;
    if (misnamed)
      return this.#fault(
        misnamed,
        `no vehicle is named: \`${misnamed.column.heading}\` has one, and is no heading that is read`,
        'rename it `vehicle`',
      );
    if (className === undefined)
      return this.#fault(
        { row, ...(named && { column: named.column }) },
        text === undefined ? 'no vehicle is named' : `there is no vehicle \`${text}\``,
        `${text === undefined ? '' : meant(await names.like('vehicle', text))}give the id or name of a vehicle of /v1/vehicles, or a class of /v1/classes, in a column \`vehicle\` or \`class\``,
      );
    if (classed) this.#places.push(['/vehicle/class', classed]);
    const values: Record<string, NonNullable<InlineVehicle['values']>[string]> = {};
    for (const [{ quantity, place }, value] of this.#values)
      values[quantity] = place === undefined ? value : { ...(values[quantity] as Record<string, ValueInput> | undefined), [place]: value };
    return {
      from: 'inline',
      class: className,
      ...(named && found?.from !== 'class' && { name: named.text }),
      ...(this.#values.length > 0 && { values }),
      ...(this.#readings.length > 0 && { measured: this.#readings }),
    };
  }

  /** A column whose heading says nothing, with a vehicle in it. */
  async #vehicleElsewhere(): Promise<Cell | undefined> {
    for (const cell of this.#unread) if (await this.#reader.names.vehicle(cell.text)) return cell;
    return undefined;
  }

  /** A vehicle of the catalogue states its own values; what a table says of this one was read off it. */
  #asReading(quantity: string, place: string | undefined, value: string, i: number): VehicleReading {
    const cell = this.#places.find(([pointer]) => pointer === `/vehicle/values/${quantity}`)?.[1];
    if (cell) this.#places.push([`/vehicle/measured/${this.#readings.length + i}`, cell]);
    return { quantity, ...(place !== undefined && { of: place }), value };
  }

  #items(row: number): LoadItem[] {
    const { mass, behind_front_axle } = this.#load;
    if (mass === undefined && behind_front_axle === undefined) return [];
    const cell = this.#once.get('load mass') ?? this.#once.get('load behind_front_axle');
    if (cell) this.#places.push(['/load', cell]);
    if (mass === undefined) return this.#fault(cell ?? { row }, 'the load does not say its mass', 'add a column such as `load [kg]`') ?? [];
    if (behind_front_axle !== undefined) return [{ name: 'load', mass, behind_front_axle }];
    const { name, behind_rear_axle: assumed } = this.#reader.headings.loadPlace;
    this.#remarks.push(`where the load lies was not said: ${name}, ${assumed.replace(' ± ', ', give or take ')} behind the rear axle`);
    return [{ name: 'load', mass, behind_rear_axle: assumed }];
  }

  #draft(key: string, target: Omit<PartTarget, 'is'>, cell: Cell): Draft {
    const known = this.#byColumn.get(key);
    if (known) return known;
    const { kind, at, replaces } = target;
    const draft: Draft = { from: 'inline', kind, ...(at && { at }), ...(replaces && { replaces }), attributes: {} };
    this.#places.push([`/parts/${this.#parts.length}`, cell]);
    this.#byColumn.set(key, draft);
    this.#parts.push(draft);
    return draft;
  }

  /** A cell of a column of one kind of part. */
  async #part(target: PartTarget, cell: Cell): Promise<void> {
    const { headings, names } = this.#reader;
    const word = cell.text.toLowerCase();
    if (headings.none.has(word)) return;
    const key = `${cell.row}|${target.kind}|${target.at ?? ''}`;
    // What begins with a number in a column of numbers names nothing.
    const named = target.attribute !== undefined && /^[-+−.\d]/.test(cell.text) ? undefined : await names.part(cell.text);
    if (named) {
      if (!isKind(this.#reader.library, named.kind, target.kind))
        return this.#fault(cell, `\`${cell.text}\` is a ${named.kind}`, `name a ${target.kind}`);
      this.#alone.set(named.id, cell);
      this.#namedOnce(named.id, this.#listed.get(named.id), cell);
      if (this.#saysFirst(`${key} part`, named.id, cell)) this.#draft(key, target, cell).catalogue = named.id;
      return;
    }
    const attributes = await this.#attributes(target, cell);
    if (!attributes) return;
    const draft = this.#draft(key, target, cell);
    const at = this.#parts.indexOf(draft);
    for (const [name, value] of Object.entries(attributes)) {
      if (!this.#saysFirst(`${key} ${name}`, String(value), cell)) continue;
      this.#places.push([`/parts/${at}/attributes/${name}`, cell]);
      draft.attributes[name] = value;
    }
  }

  /** What the cell says of the part itself. */
  async #attributes({ kind, attribute, form }: PartTarget, cell: Cell): Promise<Record<string, ValueInput> | undefined> {
    const { headings, library, names } = this.#reader;
    if (form === 'designation') {
      const size = parseDesignation(cell.text);
      if (size.ok) return { designation: cell.text };
      return this.#fault(
        cell,
        size.reason,
        'write the size as on the sidewall, such as `265/70R17 115S`, or give the id of a part of /v1/parts',
      );
    }
    if (form === 'rim-and-offset') {
      const size = rimAndOffset(cell.text);
      return (
        size ??
        this.#fault(
          cell,
          `\`${cell.text}\` is no wheel of the catalogue and no size of one`,
          'write it as `17x8.5` or `17x8.5 ET10`, or give the id of a part of /v1/parts',
        )
      );
    }
    const signature = attribute === undefined ? undefined : attributesOf(library, kind).get(attribute)?.attribute;
    // A text without a figure is no value; it was meant as a name.
    const isNumber = signature?.type.is === 'number';
    const isName = isNumber && !/^[-+−±.\d½¼¾]/.test(cell.text);
    // With a unit in its heading `1` is a number; a lift of `1` without one may be a yes or an inch.
    const isYes = headings.some.has(cell.text.toLowerCase()) && !(isNumber && cell.column.unit !== undefined && BARE.test(cell.text));
    if (
      isYes &&
      isNumber &&
      BARE.test(cell.text) &&
      signature.type.is === 'number' &&
      signature.type.dimension === findUnit('mm')?.dimension
    )
      return this.#fault(cell, `\`${cell.text}\` may be a yes or a length`, 'write `yes`, or the length with its unit, such as `1 in`');
    if (attribute !== undefined && !isName && !isYes) return { [attribute]: this.#quantity(cell) };
    if (isYes) return {};
    const known = [...attributesOf(library, kind).keys()].map((name) => `\`${kind} ${name}\``);
    return this.#fault(
      cell,
      `there is no part \`${cell.text}\` in the catalogue`,
      `${meant(await names.like('part', cell.text))}give the id of a part of /v1/parts, yes or no, or its values in columns such as ${known.slice(0, 2).join(', ')}`,
    );
  }

  async #list(cell: Cell): Promise<void> {
    const names = cell.text.split(/[;,\n|+]/).flatMap((name) => name.trim() || []);
    if (names.length > MOST_NAMED)
      return this.#fault(cell, `it names ${names.length} parts`, `name ${MOST_NAMED} at most in a cell, or give each part a row`);
    for (const name of names) await this.#named(name, cell);
  }

  async #named(name: string, cell: Cell): Promise<void> {
    const { headings, names } = this.#reader;
    if (headings.none.has(name.toLowerCase())) return;
    const found = await names.part(name);
    if (!found)
      return this.#fault(
        cell,
        `there is no part \`${name}\` in the catalogue`,
        `${meant(await names.like('part', name))}give ids or whole names of parts of /v1/parts, with semicolons between`,
      );
    this.#namedOnce(found.id, this.#listed.get(found.id) ?? this.#alone.get(found.id), cell);
    this.#listed.set(found.id, cell);
    const usual = headings.kindOf(found.kind);
    this.#draft(
      `${cell.row}|${cell.column.index}|${name}`,
      { kind: found.kind, ...(usual?.at && { at: usual.at }), ...(usual?.replaces && { replaces: usual.replaces }) },
      cell,
    ).catalogue = found.id;
  }

  /** Whether one is meant or two nobody can tell. */
  #namedOnce(part: string, before: Cell | undefined, cell: Cell): void {
    if (before)
      this.#fault(
        cell,
        `the part \`${part}\` is named twice${before.column.heading === cell.column.heading ? '' : `, here and in \`${before.column.heading}\``}`,
        'name it once; for two of it give each a row of its own, in a table of parts',
      );
  }

  /** A row that is a part: what it is, where it goes, and its values. */
  async #partRow(said: readonly Cell[], row: number): Promise<void> {
    const of = (is: Target['is']): Cell | undefined => said.find(({ column }) => column.target?.is === is);
    const [kind, item, place, replaces] = [of('kind'), of('item'), of('place'), of('replaces')];
    const attributes = said.filter(({ column }) => column.target?.is === 'attribute');
    if (!kind && !item) {
      if (attributes.length > 0)
        this.#fault({ row }, 'the row has values of a part, and does not say which part', 'fill in the column of its kind, or of its name');
      return;
    }
    const named = item && (await this.#reader.names.part(item.text));
    const known = this.#reader.headings.kindOf(named?.kind ?? kind?.text ?? item?.text ?? '');
    const cell = item ?? (kind as Cell);
    if (!known)
      return this.#fault(
        cell,
        `\`${kind?.text ?? cell.text}\` is no kind of part, and no part of the catalogue`,
        `${meant(await this.#reader.names.like('part', cell.text))}say its kind, one of /v1/kinds, in a column \`kind\`, or give the id of a part of /v1/parts`,
      );
    const at = place ? this.#place(place) : known.at;
    if (place && at === undefined) return;
    const draft = this.#draft(
      `${row}`,
      {
        kind: named?.kind ?? known.kind,
        ...(at && { at }),
        ...(replaces ? { replaces: replaces.text } : known.replaces && { replaces: known.replaces }),
      },
      cell,
    );
    const index = this.#parts.indexOf(draft);
    if (named) draft.catalogue = named.id;
    else if (item) draft.name = item.text.slice(0, 120);
    for (const [pointer, where] of [
      ['at', place],
      ['replaces', replaces],
    ] as const)
      if (where) this.#places.push([`/parts/${index}/${pointer}`, where]);
    for (const each of attributes) {
      const { attribute } = each.column.target as { attribute: string };
      if (!this.#saysFirst(`${row} ${attribute}`, this.#quantity(each), each)) continue;
      this.#places.push([`/parts/${index}/attributes/${attribute}`, each]);
      draft.attributes[attribute] = this.#quantity(each);
    }
  }

  #place(cell: Cell): PlaceInput | undefined {
    const place = PLACES_SAID[cell.text.toLowerCase().replaceAll(/[\s_]+/g, '-')];
    return (
      place ??
      this.#fault(
        cell,
        `\`${cell.text}\` is no place on a vehicle`,
        `say one of ${[...new Set(Object.values(PLACES_SAID))].map((name) => `\`${name}\``).join(', ')}`,
      )
    );
  }

  /** The cell whose pointer the fault's begins with, the longest of them. */
  #locate({ pointer, message, help }: RequestFault, row: number): RowFault {
    const found = this.#places
      .filter(([at]) => pointer === at || pointer.startsWith(`${at}/`))
      .sort(([a], [b]) => b.length - a.length)[0]?.[1];
    return { row: found?.row ?? row, ...(found && { column: found.column.heading }), message, help };
  }
}

function partOf({ catalogue, attributes, name, kind, ...common }: Draft): PartInput {
  if (catalogue === undefined) return { ...common, from: 'inline', kind, ...(name !== undefined && { name }), attributes };
  const { from: _, ...placed } = common;
  return { ...placed, from: 'catalogue', part: catalogue, ...(Object.keys(attributes).length > 0 && { measured: attributes }) };
}

/** What a spreadsheet shows of a formula that came to nothing. */
const SPREADSHEET_ERROR = /^(?:#(?:REF!|DIV\/0!|N\/A|NAME\?|VALUE!|NUM!|NULL!|SPILL!|CALC!)|Err:\d+)$/i;
const DRIVER_ALONE = 1;
/** Parts in a cell; each is looked for in the catalogue. */
const MOST_NAMED = 60;

/** `near` is a heading that is read; what it would be read as is said in its own words. */
const namedAs = (near: string): string => `did you mean \`${near}\`?`;

/** The same value, in whatever unit and however it is written. */
function isSame(a: string, b: string, dimension: Dimension | undefined): boolean {
  if (a.toLowerCase() === b.toLowerCase()) return true;
  const [x, y] = [parseQuantity(a, dimension), parseQuantity(b, dimension)];
  if (!x.ok || !y.ok || x.unit.dimension !== y.unit.dimension) return false;
  const near = (p: number, q: number): boolean => Math.abs(p - q) <= 1e-9 * Math.max(Math.abs(p), Math.abs(q));
  return near(x.measure.value, y.measure.value) && near(x.measure.plusMinus, y.measure.plusMinus);
}

/** Said before what may be given. */
const meant = (names: readonly string[]): string =>
  names.length === 0 ? '' : `did you mean ${names.map((name) => `\`${name}\``).join(' or ')}? Else `;

/** `12k`, `9.5k lb`: thousands, as pulls of winches are said. */
const THOUSANDS = /^(\d+(?:\.\d+)?)\s?k(?:\s+(\S{1,12}))?$/i;
const BARE = /^([-+−]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[-+]?\d+)?)\s*(?:(?:±|\+-|\+\/-)\s*([\d.]+))?$/i;
const RIM_AND_OFFSET =
  /^(\d{2}(?:\.\d)?)\s*["”]?\s*[x×*]\s*(\d{1,2}(?:\.\d{1,2})?)\s*["”jJ]*\s*(?:(?:et|offset)?\s*([-+]?\d{1,3})\s*(?:mm)?)?$/i;

/** `17x8.5`, `17 x 8.5J ET-10`, `17x8 +15`: rim diameter and width in inches (common practice), offset in millimetres. */
function rimAndOffset(text: string): Record<string, ValueInput> | undefined {
  const [, diameter, width, offset] = RIM_AND_OFFSET.exec(text) ?? [];
  if (diameter === undefined) return undefined;
  return { rim_diameter: `${diameter} in`, rim_width: `${width} in`, ...(offset !== undefined && { offset: `${Number(offset)} mm` }) };
}

const PLACES_SAID: Readonly<Record<string, PlaceInput>> = {
  ...Object.fromEntries(
    (['vehicle', 'front', 'rear', 'front-left', 'front-right', 'rear-left', 'rear-right', 'all'] as const).map((place) => [place, place]),
  ),
  everywhere: 'all',
  both: 'all',
  f: 'front',
  r: 'rear',
  back: 'rear',
  fl: 'front-left',
  fr: 'front-right',
  rl: 'rear-left',
  rr: 'rear-right',
};
