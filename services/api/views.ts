/** Kinds, quantities, works and rules as people read them: templates and expressions as their authors wrote them. */
import type { z } from 'zod';
import type { Attribute, ClassDefaults, Jurisdiction, Kind, Library, Quantity, Rule, Signature, Source, Work } from '../engine/index.ts';
import type { Span } from '../engine/source.ts';
import type { SubjectRef } from '../engine/tree.ts';
import { findUnit, printQuantity } from '../units/index.ts';
import { attributesOf, lineage } from '../vehicle/library-view.ts';
import { basisOf } from '../workshop/findings.ts';
import type { ClassView, JurisdictionView, KindView, QuantityView, RuleView, SourceView, WorkView } from './schemas/dictionary.ts';

const sourceText = ({ source, start, end }: Span): string => source.text.slice(start, end).replace(/\s+/g, ' ').trim();

const printed = ({ type, unit }: Signature, value: number, plusMinus = 0): string => {
  const found = type.is === 'number' ? findUnit(unit ?? '1', type.dimension) : undefined;
  return found ? printQuantity(value, found, { plusMinus }) : String(value);
};

function signatureView(signature: Signature, library: Library) {
  const { name, title, type, unit, meaning, typical, measure } = signature;
  return {
    name,
    title,
    type: type.is,
    meaning,
    ...(unit && { unit }),
    ...(type.is === 'text' && type.oneOf && { one_of: [...type.oneOf] }),
    ...(typical && { typical: printed(signature, typical.value, typical.plusMinus) }),
    ...(measure && {
      measure: {
        how: measure.how,
        tool: measure.tool,
        ...(measure.where && { where: measure.where }),
        ...(measure.suspension && { suspension: measure.suspension }),
        ...(measure.steering && { steering: measure.steering }),
        ...(measure.accuracy !== undefined && { accuracy: printed(signature, measure.accuracy) }),
        ...(measure.minutes !== undefined && { minutes: measure.minutes }),
        cautions: cautionTexts(measure.cautions, library),
      },
    }),
  };
}

const cautionTexts = (cautions: readonly string[], library: Library): string[] =>
  cautions.map((caution) => library.cautions.get(caution) ?? caution);

export function kindView(kind: Kind, library: Library): z.input<typeof KindView> {
  const typical = new Map([...lineage(library, kind.id)].reverse().flatMap((ancestor) => [...ancestor.typical]));
  const attribute = (name: string, leaf: string, signature: Attribute) => {
    const usual = typical.get(name);
    return { ...signatureView(usual ? { ...signature, typical: usual } : signature, library), from: leaf.split('.')[0] ?? kind.id };
  };
  return {
    id: kind.id,
    title: kind.title,
    fits: kind.fits,
    abstract: kind.abstract,
    one_per_place: kind.onePerPlace,
    frame: kind.frame,
    ...(kind.is && { is: kind.is }),
    ...(kind.bridgesTo && { bridges_to: kind.bridgesTo }),
    attributes: [...attributesOf(library, kind.id)].map(([name, { leaf, attribute: signature }]) => attribute(name, leaf, signature)),
  };
}

export const quantityView = (quantity: Quantity, library: Library): z.input<typeof QuantityView> => ({
  ...signatureView(quantity, library),
  per: quantity.per.length === 0 ? ['vehicle'] : quantity.per.map((of) => (of.is === 'part' ? of.kind : of.is)),
  comes: quantity.comes,
});

export function ruleView(rule: Rule, library: Library): z.input<typeof RuleView> {
  return {
    id: rule.id,
    area: rule.area,
    title: rule.title,
    hazard: rule.hazard,
    ranges_over: rule.binders.map(({ name, selector }) => `${name}: ${sourceText(selector.span)}`),
    requires: sourceText(rule.require.span),
    says: rule.says.map((piece) => (piece.is === 'words' ? piece.words : '…')).join(''),
    works: rule.work.map(({ work }) => work),
    basis: basisOf(rule.basis, library),
    cautions: cautionTexts(rule.cautions, library),
    examples: rule.examples.length,
    ...(rule.note && { note: rule.note }),
  };
}

const HOUR = 3600;

export function workView(work: Work, library: Library): z.input<typeof WorkView> {
  const { low, likely, high } = work.hours;
  return {
    id: work.id,
    title: work.title
      .map((piece) =>
        piece.is === 'words' ? piece.words : piece.is === 'number' && piece.of.op === 'parameter' ? `<${piece.of.name}>` : '…',
      )
      .join(''),
    takes: work.takes.map(({ name, type, unit, meaning }) => ({
      name,
      type: type.is === 'subject' ? (type.of.is === 'part' ? type.of.kind : type.of.is) : type.is,
      ...(unit && { unit }),
      ...(meaning && { meaning }),
    })),
    skills: [...work.skills],
    hours: { low: low / HOUR, likely: likely / HOUR, high: high / HOUR, unit: 'h' },
    tools: [...work.tools],
    irreversible: work.irreversible,
    prerequisites: [...work.prerequisites],
    after: work.after.map((earlier) => earlier.work),
    then: work.then.map((call) => call.work),
    effects: work.effects.map(
      ({ how, target, value }) =>
        `${target.text} ${how === 'add' ? 'gains' : 'becomes'} ${'span' in value ? sourceText(value.span) : value.is === 'literal' ? value.value : target.text}`,
    ),
    verify: work.verify ? { check: work.verify.check, accept: work.verify.accept, reads: work.verify.reads.map(({ text }) => text) } : null,
    planning: planningOf(work),
    cautions: cautionTexts(work.cautions, library),
    basis: basisOf(work.basis, library),
  };
}

/** What a set-up is of, as a file writes it: `hose.axle`. */
function refText(ref: SubjectRef, takes: Work['takes']): string {
  if (ref.is === 'place') return ref.place;
  if (ref.is === 'step') return `${refText(ref.of, takes)}.${ref.to}`;
  return takes.filter(({ type }) => type.is === 'subject')[ref.index]?.name ?? '';
}

/** What planning reads of a work, as its file says it. */
function planningOf({ after, planning, takes }: Work): z.input<typeof WorkView>['planning'] {
  const { changes, setups, without, crew, settling, visits, sentOut, fasteners, parts, consumables, safetyCritical, standsFor } = planning;
  return {
    changes: [...changes],
    setups: setups.map(({ setup, of }) => ({ setup, ...(of && { of: refText(of, takes) }) })),
    without: [...without],
    crew,
    settling: settling ? { time: { value: settling.time / HOUR, unit: 'h' }, why: settling.why } : null,
    visits: visits.map((metres) => ({ value: metres / 1000, unit: 'km' })),
    sent_out: sentOut ? { ...sentOut } : null,
    fasteners: fasteners.map(({ what, singleUse, atRideHeight, torque }) => ({
      what,
      single_use: singleUse,
      at_ride_height: atRideHeight,
      ...(torque && { torque }),
    })),
    buys: [...parts],
    consumables: [...consumables],
    safety_critical: safetyCritical,
    stands_for: standsFor.map(({ text }) => text),
    not_before: after.map(({ work, otherwise }) => ({ work, otherwise: otherwise ?? null })),
  };
}

export const sourceView = ({ id, title, kind, read, clause, edition, on }: Source): z.input<typeof SourceView> => ({
  id,
  title,
  kind,
  read,
  ...(clause && { clause }),
  ...(edition && { edition }),
  ...(on && { on }),
});

export const classView = ({ id, title, note, values, positions, fitted }: ClassDefaults): z.input<typeof ClassView> => ({
  id,
  title,
  ...(note && { note }),
  values: Object.fromEntries([...values].map(([name, byPlace]) => [name, Object.fromEntries(byPlace)])),
  positions: positions.map(({ kind, at }) => ({ kind, at })),
  fitted: fitted.map((part) => ({
    id: part.id,
    kind: part.kind,
    ...(part.name && { name: part.name }),
    ...(part.at && { at: part.at }),
    attributes: Object.fromEntries(part.attributes),
  })),
});

export const jurisdictionView = ({ id, title, note, limits }: Jurisdiction, library: Library): z.input<typeof JurisdictionView> => ({
  id,
  title,
  ...(note && { note }),
  limits: limits.map(({ kind, attributes, basis }) => ({
    kind,
    title: library.kinds.get(kind)?.title ?? kind,
    attributes: Object.fromEntries(attributes),
    basis: basisOf(basis, library),
    rules: [...library.rules.values()]
      .filter(({ binders }) => binders.some(({ selector }) => selector.kind === kind))
      .map((rule) => rule.id),
  })),
  check_the_local_text: library.cautions.get('road_law') ?? '',
});
