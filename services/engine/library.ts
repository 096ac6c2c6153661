/**
 * Everything under `rules/` read and checked together, in two phases so that order does not matter: first what there
 * is (kinds, quantities, sources, and what works take), then what is said with it. Every fault of every file at once.
 */
import { createHash } from 'node:crypto';
import { Checker, type Vocabulary } from './checker.ts';
import { readCure } from './cure-file.ts';
import { type Diagnostic, Report, suggest } from './diagnostics.ts';
import {
  allAttributes,
  readClass,
  readEntries,
  readFrame,
  readKind,
  readMeasuringPosition,
  readQuantityEntry,
  readReference,
} from './dictionary-file.ts';
import { type References, readWorkCalls } from './fields.ts';
import { readJurisdiction } from './jurisdiction-file.ts';
import {
  known,
  type PlanningNames,
  readAspect,
  readHandOver,
  readInspection,
  readReadingSet,
  readSetup,
  readSkill,
  type Setup,
  standingOn,
} from './planning.ts';
import { readRule } from './rule-file.ts';
import type { Source, Span } from './source.ts';
import type {
  ClassDefaults,
  Frame,
  Jurisdiction,
  Kind,
  Library,
  MeasuringPosition,
  Quantity,
  Source as Reference,
  Rule,
  Work,
  WorkParameter,
} from './tree.ts';
import { putInOrder, type ReadWork, readParameters, readWork } from './work-file.ts';
import { Fields, readYaml, type YamlNode } from './yaml-reader.ts';

export type PlaceNames = Vocabulary['places'];

interface File {
  readonly source: Source;
  readonly node: YamlNode;
  /** Folders and name below `rules/`. */
  readonly path: readonly string[];
  readonly name: string;
}

/** Files carry paths relative to the folder of rules: `constraints/brakes/x.yaml`. Folders not known here are left alone. */
export function loadLibrary(
  sources: readonly Source[],
  places: PlaceNames,
): { readonly library: Library; readonly diagnostics: readonly Diagnostic[] } {
  const report = new Report();
  const ordered = [...sources].sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : 0));
  const files = ordered.flatMap((source): File[] => {
    const path = pathBelowRules(source.file);
    const node = KNOWN.has(path[0] ?? '') ? readYaml(source, report) : undefined;
    return node ? [{ source, node, path, name: (path.at(-1) ?? '').replace(/\.ya?ml$/, '') }] : [];
  });
  const library = new Loader(files, places, report).load(hashOf(ordered));
  return { library, diagnostics: report.sorted() };
}

const KNOWN: ReadonlySet<string> = new Set([
  'sources.yaml',
  'cautions.yaml',
  'frames.yaml',
  'measuring-positions.yaml',
  'reading-sets.yaml',
  'setups.yaml',
  'skills.yaml',
  'aspects.yaml',
  'inspections.yaml',
  'handover.yaml',
  'cures.yaml',
  'kinds',
  'quantities',
  'works',
  'constraints',
  'classes',
  'jurisdictions',
]);

const pathBelowRules = (file: string): readonly string[] => {
  const steps = file.replaceAll('\\', '/').split('/');
  return steps.slice(steps.lastIndexOf('rules') + 1);
};

function hashOf(sources: readonly Source[]): string {
  const hash = createHash('sha256');
  for (const { file, text } of sources) hash.update(`${pathBelowRules(file).join('/')}\0${text}\0`);
  return hash.digest('hex');
}

class Loader {
  readonly #files: readonly File[];
  readonly #places: PlaceNames;
  readonly #report: Report;

  constructor(files: readonly File[], places: PlaceNames, report: Report) {
    this.#files = files;
    this.#places = places;
    this.#report = report;
  }

  load(hash: string): Library {
    const report = this.#report;
    const sources = this.#named('sources.yaml', readReference);
    const cautions = this.#cautions();
    const frames = this.#named<Frame>('frames.yaml', readFrame);
    const measuringPositions = this.#named<MeasuringPosition>('measuring-positions.yaml', (name, fields) =>
      readMeasuringPosition(name, fields, { cautions }, report),
    );
    const kinds = this.#each<Kind>('kinds', (fields, { name }) => readKind(fields, name, { cautions }, report));
    const quantities = this.#quantities({ cautions }, kinds);
    this.#checkKinds(kinds, frames, quantities);
    const readable = new Map([
      ...[...quantities].filter(([, { measure }]) => measure !== undefined),
      ...[...kinds.values()].flatMap(({ id, attributes }) => [...attributes.keys()].map((name) => [`${id}.${name}`, name] as const)),
    ] as [string, unknown][]);
    const readingSets = this.#named('reading-sets.yaml', (name, fields) => readReadingSet(name, fields, readable, report));
    const vocabulary: Vocabulary = { kinds, quantities, places: this.#places };
    const works = new Map<string, readonly WorkParameter[]>(
      this.#in('works').map(({ name, fields }) => [name, readParameters(fields, vocabulary, report)]),
    );
    const references: References = { sources, cautions, works };
    const planning: PlanningNames = {
      setups: this.#named('setups.yaml', (name, fields) => readSetup(name, fields, cautions, report)),
      skills: this.#named('skills.yaml', readSkill),
      aspects: this.#named('aspects.yaml', readAspect),
    };
    const inspections = this.#named('inspections.yaml', (name, fields) => readInspection(name, fields, works, planning.skills, report));
    const cures = this.#named('cures.yaml', (name, fields) => readCure(name, fields, works, kinds, report));
    const handOver = this.#named('handover.yaml', (name, fields) => readHandOver(name, fields, quantities, report));
    this.#checkSetups(planning.setups, works, kinds);
    const asWritten = this.#each<ReadWork>('works', (fields, { name }) =>
      readWork(fields, name, works.get(name) ?? [], vocabulary, references, planning, report),
    );
    const worksRead = putInOrder(asWritten, planning, report);
    this.#checkWorks(worksRead, planning.setups);
    this.#checkReadings(worksRead, planning.setups, quantities, kinds);
    const kindsWithFitting = this.#fittings(kinds, vocabulary, references);
    const rules = this.#each<Rule>('constraints', (fields, { name, path }) =>
      readRule(fields, { fileName: name, area: path.slice(1, -1).join('/') }, vocabulary, references, report),
    );
    const classes = this.#each<ClassDefaults>('classes', (fields, { name }) =>
      readClass(fields, name, kinds, quantities, this.#places, report),
    );
    for (const { typical, span } of classes.values())
      for (const [kind, of] of typical) if (kinds.has(kind)) this.#checkTypical(of, kind, span, kinds, quantities);
    const jurisdictions = this.#each<Jurisdiction>('jurisdictions', (fields, { name }) =>
      readJurisdiction(fields, name, kinds, references, report),
    );
    return {
      sources,
      cautions,
      frames,
      measuringPositions,
      readingSets,
      kinds: kindsWithFitting,
      quantities,
      works: worksRead,
      ...planning,
      inspections,
      handOver,
      rules,
      classes,
      jurisdictions,
      cures,
      hash,
    };
  }

  #in(folder: string): (File & { readonly fields: Fields })[] {
    return this.#files
      .filter(({ path }) => path[0] === folder)
      .flatMap((file) => {
        const fields = Fields.of(file.node, 'this file', this.#report);
        return fields ? [{ ...file, fields }] : [];
      });
  }

  /** One thing a file, by its id; the same id twice is a fault. */
  #each<T extends { readonly id: string; readonly span: Fields['span'] }>(
    folder: string,
    read: (fields: Fields, file: File) => T | undefined,
  ): Map<string, T> {
    const found = new Map<string, T>();
    for (const file of this.#in(folder)) {
      const thing = read(file.fields, file);
      if (!thing) continue;
      const twin = found.get(thing.id);
      if (twin)
        this.#report.add(
          'RULE_DUPLICATE_ID',
          file.fields.key('id'),
          `\`${thing.id}\` is already in ${twin.span.source.file}`,
          'give one of them another id',
        );
      else found.set(thing.id, thing);
    }
    return found;
  }

  #named<T>(file: string, read: (name: string, fields: Fields) => T | undefined): Map<string, T> {
    const found = this.#files.find(({ path }) => path.length === 1 && path[0] === file);
    return found ? readEntries(found.node, this.#report, read) : new Map<string, T>();
  }

  #cautions(): Map<string, string> {
    const file = this.#files.find(({ path }) => path[0] === 'cautions.yaml');
    if (file?.node.is !== 'map') return new Map();
    return new Map([...file.node.entries].flatMap(([id, { value }]) => (value.is === 'text' ? [[id, value.text.trim()] as const] : [])));
  }

  #quantities(cautions: Pick<References, 'cautions'>, kinds: ReadonlyMap<string, Kind>): Map<string, Quantity> {
    const found = new Map<string, Quantity>();
    for (const { node } of this.#files.filter(({ path }) => path[0] === 'quantities')) {
      const entries = readEntries(node, this.#report, (entry, fields) => readQuantityEntry(entry, fields, cautions, this.#report));
      for (const quantity of [...entries.values()].flat()) {
        const { name } = quantity;
        const twin = found.get(name);
        if (twin)
          this.#report.add('RULE_DUPLICATE_ID', quantity.span, `\`${name}\` is already in ${twin.span.source.file}`, 'keep one of the two');
        else found.set(name, quantity);
        for (const kind of (quantity.measure?.with ?? []).filter((id) => !kinds.has(id)))
          this.#report.add(
            'RULE_UNKNOWN_NAME',
            quantity.span,
            `\`${name}\` is read with \`${kind}\` on, and there is no such kind`,
            suggest(kind, kinds.keys()),
          );
        for (const of of quantity.per)
          if (of.is === 'part' && !kinds.has(of.kind))
            this.#report.add(
              'RULE_UNKNOWN_NAME',
              quantity.span,
              `\`${name}\` is per \`${of.kind}\`, and there is no such kind`,
              suggest(of.kind, ['vehicle', 'axle', 'corner', ...kinds.keys()]),
            );
      }
    }
    for (const { name, type, never = [] } of found.values())
      for (const bound of never) {
        const other = found.get(bound.name);
        const alike = type.is === 'number' && other?.type.is === 'number' && other.type.dimension === type.dimension;
        if (alike) continue;
        const said = `\`${name}\` is never ${bound.is} \`${bound.name}\`, and there is no such quantity${other ? ' of its dimension' : ''}`;
        this.#report.add('RULE_UNKNOWN_NAME', bound.span, said, suggest(bound.name, found.keys()));
      }
    return found;
  }

  #checkKinds(kinds: ReadonlyMap<string, Kind>, frames: ReadonlyMap<string, Frame>, quantities: ReadonlyMap<string, Quantity>): void {
    for (const kind of kinds.values()) {
      if (kind.is !== undefined && !kinds.has(kind.is))
        this.#report.add(
          'RULE_UNKNOWN_NAME',
          kind.span,
          `\`${kind.id}\` is a \`${kind.is}\`, and there is no such kind`,
          suggest(kind.is, kinds.keys()),
        );
      if (ringAmong(kind.id, (id) => parentOf(kinds, id)))
        this.#report.add('RULE_CYCLE', kind.span, `\`${kind.id}\` is a kind of itself`, 'break the ring of `is:`');
      this.#checkTypical(kind.typical, kind.id, kind.span, kinds, quantities);
      const named = [kind.frame, kind.bridgesTo, kind.raises?.frame, kind.raises?.against].filter((frame) => frame !== undefined);
      for (const frame of named)
        if (!frames.has(frame))
          this.#report.add('RULE_UNKNOWN_NAME', kind.span, `there is no frame \`${frame}\``, suggest(frame, frames.keys()));
    }
  }

  /** Usual values of a kind of part, its own or a class's, are of what such a part has. */
  #checkTypical(
    typical: Kind['typical'],
    kind: string,
    span: Span,
    kinds: ReadonlyMap<string, Kind>,
    quantities: ReadonlyMap<string, Quantity>,
  ): void {
    const attributes = allAttributes(kinds, kind);
    for (const [name, { dimension }] of typical) {
      const type = attributes.get(name)?.type ?? quantities.get(name)?.type;
      if (type?.is !== 'number' || type.dimension !== dimension)
        this.#report.add(
          'RULE_DIMENSION',
          span,
          `the typical \`${name}\` of \`${kind}\` is not what that is`,
          type ? 'give it in a unit of its own' : suggest(name, attributes.keys()),
        );
    }
  }

  /** The works that put parts of a kind on; `fitting: none` says that it takes none. */
  #fittings(kinds: ReadonlyMap<string, Kind>, vocabulary: Vocabulary, references: References): Map<string, Kind> {
    const found = new Map(kinds);
    for (const { fields, name } of this.#in('kinds')) {
      const kind = kinds.get(name);
      const node = fields.node('fitting');
      if (!kind || node === undefined) continue;
      const checker = new Checker(vocabulary, this.#report);
      checker.bind('part', { is: 'part', kind: name });
      const none = node.is === 'text' && node.text === 'none';
      const calls = none ? [] : readWorkCalls(fields.list('fitting'), checker, references, this.#report);
      found.set(name, { ...kind, fitting: { scope: checker.scope, calls } });
    }
    return found;
  }

  #checkSetups(setups: ReadonlyMap<string, Setup>, works: ReadonlyMap<string, unknown>, kinds: ReadonlyMap<string, Kind>): void {
    const unknown = (what: string, name: string, { span }: Setup, names: Iterable<string>): void =>
      this.#report.add('RULE_UNKNOWN_NAME', span, `there is no ${what} \`${name}\``, suggest(name, names));
    for (const setup of setups.values()) {
      for (const other of [...setup.needs, ...setup.without]) if (!setups.has(other)) unknown('set-up', other, setup, setups.keys());
      for (const work of setup.then) if (!works.has(work)) unknown('work', work, setup, works.keys());
      if (setup.per?.is === 'part' && !kinds.has(setup.per.kind)) unknown('kind', setup.per.kind, setup, kinds.keys());
      if (ringAmong(setup.id, (id) => setups.get(id)?.needs ?? []))
        this.#report.add('RULE_CYCLE', setup.span, `\`${setup.id}\` would have to stand before itself`, 'break the ring of `needs:`');
    }
  }

  /** What is read standing on its wheels is a work of its own where the work itself is done off the ground. */
  #checkReadings(
    works: ReadonlyMap<string, Work>,
    setups: ReadonlyMap<string, Setup>,
    quantities: ReadonlyMap<string, Quantity>,
    kinds: ReadonlyMap<string, Kind>,
  ): void {
    for (const { id, planning, verify, span } of works.values()) {
      const needed = standingOn(
        planning.setups.map(({ setup }) => setup),
        setups,
      );
      if (![...needed].some((setup) => setups.get(setup)?.offGround)) continue;
      for (const { name } of verify?.reads ?? []) {
        const [kind = '', attribute = ''] = name.split('.');
        const { measure } = quantities.get(name) ?? kinds.get(kind)?.attributes.get(attribute) ?? {};
        if (measure?.suspension === STANDING)
          this.#report.add(
            'RULE_BAD_VALUE',
            span,
            `\`${name}\` is read standing on its wheels, and \`${id}\` is done off the ground`,
            'let a work of its own read it, and bring that with `then:`',
          );
      }
    }
  }

  /** Works that bring each other, or come before each other, in a ring could never be done. */
  #checkWorks(works: ReadonlyMap<string, Work>, setups: ReadonlyMap<string, Setup>): void {
    for (const work of works.values()) {
      for (const text of work.planning.standsFor) known(text, works, 'RULE_UNKNOWN_WORK', 'work', this.#report);
      const brings = ringAmong(work.id, (id) => works.get(id)?.then.map((call) => call.work) ?? []);
      if (brings)
        this.#report.add(
          'RULE_CYCLE',
          work.span,
          `\`${work.id}\` brings itself with it: ${brings.join(' → ')}`,
          'break the ring of `then:`',
        );
      const waits = ringAmong(work.id, (id) => earlier(works, setups, id));
      if (waits)
        this.#report.add(
          'RULE_CYCLE',
          work.span,
          `\`${work.id}\` would have to come before itself: ${[...waits].reverse().join(' → ')}`,
          'break the ring of `after:`, `before:` and `then:`',
        );
    }
  }
}

const STANDING = 'at ride height';

const parentOf = (kinds: ReadonlyMap<string, Kind>, id: string): readonly string[] => {
  const parent = kinds.get(id)?.is;
  return parent === undefined ? [] : [parent];
};

/** What comes before a work: what is said so, and what brings it, by itself or by a set-up. */
const earlier = (works: ReadonlyMap<string, Work>, setups: ReadonlyMap<string, Setup>, id: string): readonly string[] => [
  ...(works.get(id)?.after ?? []).map(({ work }) => work),
  ...[...works.values()]
    .filter(
      ({ then, planning }) =>
        then.some(({ work }) => work === id) || planning.setups.some(({ setup }) => setups.get(setup)?.then.includes(id)),
    )
    .map((work) => work.id),
];

/** The way by which one comes back to where one started, the start at both ends. */
function ringAmong(start: string, next: (id: string) => readonly string[]): readonly string[] | undefined {
  const cameFrom = new Map<string, string>();
  const queue = [start];
  for (let id = queue.shift(); id !== undefined; id = queue.shift()) {
    for (const to of next(id)) {
      if (to === start) return [...wayTo(id, start, cameFrom), start];
      if (cameFrom.has(to)) continue;
      cameFrom.set(to, id);
      queue.push(to);
    }
  }
  return undefined;
}

function wayTo(id: string, start: string, cameFrom: ReadonlyMap<string, string>): string[] {
  const way = [id];
  while (way[0] !== start) way.unshift(cameFrom.get(way[0] as string) as string);
  return way;
}

export type { Reference };
