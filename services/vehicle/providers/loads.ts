import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Provider } from '../../engine/values.ts';
import { axleSharesIn, sagIn } from '../../models/loads/axle-loads.ts';
import { centreHeight, stabilityFactor } from '../../models/loads/stability.ts';
import type { Part } from '../assembly.ts';
import { isKind } from '../library-view.ts';
import { AXLES, CORNERS, subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf } from './structure.ts';

/** By how much a side may carry more than half (common practice, no source: driver, tank and battery sit to one side). */
const SIDES_DIFFER = 0.04;
/** Frames that stand on the wheels and not on the springs. */
const UNSPRUNG: ReadonlySet<string> = new Set(['knuckle', 'front_axle', 'rear_axle']);
/** Springs whose rate nobody needs a drawing for; a coil-over states its own, and a drawn front answers for it. */
const SPRINGS = ['front_spring', 'rear_spring'];
const MOMENTS = 'axle loads by moments about the axles';

export function loadProviders(world: VehicleWorld): Provider[] {
  const { added, removed, load, fitted, planned } = structureOf(world);

  /** What one part brings to an axle, by where its centre of mass is. */
  const share = <N>(ask: FormulaAsk<N>, part: Part, axle: number): N => {
    const mass = ask.value('part.mass', part.subject);
    const shares = axleSharesIn(ask, mass, ask.value('part.behind_front_axle', part.subject), ask.value('wheelbase'));
    return axle === subjectOf('front') ? shares.front : shares.rear;
  };
  const currentOf = <N>(ask: FormulaAsk<N>, parts: readonly Part[]): N =>
    ask.sum(electric(parts).map(({ subject }) => ask.value('electric_accessory.current', subject)));
  const electric = (parts: readonly Part[]): readonly Part[] =>
    parts.filter(({ kind }) => isKind(world.library, kind, 'electric_accessory'));
  const isSprung = ({ kind }: Part): boolean => !UNSPRUNG.has(world.library.kinds.get(kind)?.frame ?? 'chassis');
  const total = <N>(ask: FormulaAsk<N>, parts: readonly Part[], axle: number): N => ask.sum(parts.map((part) => share(ask, part, axle)));
  const both = <N>(ask: FormulaAsk<N>, name: string): N => ask.sum(AXLES.map((axle) => ask.value(name, subjectOf(axle))));

  return [
    {
      provides: 'part.behind_front_axle',
      model: 'the wheelbase and its distance behind the rear axle; what is at an axle is above it',
      ...formula((ask, part) => {
        const axle = world.step(part, 'axle');
        if (axle < 0 && isSaid(world, 'part.behind_rear_axle', part))
          return ask.sum([ask.value('wheelbase'), ask.value('part.behind_rear_axle', part)]);
        if (axle < 0) return ask.unknown('the place of its centre of mass is not given');
        return axle === subjectOf('front') ? ask.of(0) : ask.value('wheelbase');
      }),
    },
    {
      provides: 'axle_load',
      model: MOMENTS,
      ...formula((ask, axle) => ask.sum([ask.value('axle_load_as_fitted', axle), ask.value('axle_load_change', axle)])),
    },
    {
      provides: 'axle_load_change',
      model: MOMENTS,
      ...formula((ask, axle) => ask.minus(total(ask, added, axle), total(ask, removed, axle))),
    },
    {
      provides: 'sprung_load_change',
      model: `${MOMENTS}, of what the springs carry`,
      ...formula((ask, axle) => ask.minus(total(ask, added.filter(isSprung), axle), total(ask, removed.filter(isSprung), axle))),
    },
    {
      provides: 'axle_load_as_fitted',
      model: MOMENTS,
      ...formula((ask, axle) => ask.sum([ask.value('kerb_axle_mass', axle), total(ask, load, axle)])),
    },
    { provides: 'gross_mass', model: 'sum of the axle loads', ...formula((ask) => both(ask, 'axle_load')) },
    {
      provides: 'mass_added',
      model: 'sum of what comes on less what comes off',
      ...formula((ask) => ask.minus(massOf(ask, added), massOf(ask, removed))),
    },
    {
      provides: 'current_added',
      model: 'sum of what comes on less what comes off, all at work at once',
      ...formula((ask) => ask.minus(currentOf(ask, added), currentOf(ask, removed))),
    },
    {
      provides: 'payload_left',
      model: 'rated gross mass less gross mass',
      ...formula((ask) => ask.minus(ask.value('gross_mass_rating'), ask.value('gross_mass'))),
    },
    {
      provides: 'tyre_load',
      model: 'half of the axle load; sides are never quite alike',
      ...formula((ask, corner) => {
        const half = ask.times(ask.of(1 / 2), ask.value('axle_load', world.step(corner, 'axle')));
        ask.within(ask.times(ask.of(SIDES_DIFFER), half));
        return half;
      }),
    },
    {
      provides: 'roof_load_mass',
      model: 'sum of what is on the roof',
      ...formula((ask) => massOf(ask, planned('roof_load', subjectOf('vehicle')))),
    },
    {
      provides: 'stability_factor',
      model: 'half of the track over the height of the centre of mass, which lifts, taller tyres and roof loads raise',
      ...formula((ask) => {
        const roof = planned('roof_load', subjectOf('vehicle')).filter(({ state }) => state !== 'fitted');
        const cargo = load.filter(({ kind }) => kind === 'cargo');
        const ends = AXLES.map((axle) => ask.value('ride_height_change', subjectOf(axle)));
        const tyres = CORNERS.map((corner) => ask.value('tyre_radius_growth', subjectOf(corner)));
        // The cab and bed are about half of what the springs carry.
        const body = ask.times(ask.of(1 / 2), ask.minus(ask.value('body_lift_total'), ask.value('body_lift_fitted')));
        const height = ask.sum([ask.value('mass_centre_height'), mean(ask, ends), mean(ask, tyres), body]);
        const heights = [
          ...roof.map((part) => ({ part, height: 'roof_load.height' })),
          ...cargo.map((part) => ({ part, height: 'cargo.height' })),
        ];
        const high = heights.map(({ part: { subject }, height: of }) => ({
          mass: ask.value('part.mass', subject),
          height: ask.value(of, subject),
        }));
        const wider = AXLES.map((axle) => ask.value('track_change', subjectOf(axle)));
        const track = ask.sum([ask.value('wheel_track'), mean(ask, wider)]);
        return stabilityFactor(ask, track, centreHeight(ask, [{ mass: both(ask, 'kerb_axle_mass'), height }, ...high]));
      }),
    },
    ...SPRINGS.map(
      (kind): Provider => ({
        provides: `${kind}.spring_rate`,
        model: 'rate of the springs before, and how much stiffer such springs are',
        ...formula((ask, spring) =>
          ask.times(ask.value('spring_wheel_rate', world.step(spring, 'axle')), ask.value(`${kind}.rate_ratio`, spring)),
        ),
      }),
    ),
    {
      provides: 'spring_wheel_rate_after',
      model: 'of the springs that come on, else of those on it',
      ...formula((ask, axle) => {
        const [added] = SPRINGS.flatMap((kind) => planned(kind, axle).filter((part) => !fitted(kind, axle).includes(part)));
        return added ? ask.value(`${added.kind}.spring_rate`, added.subject) : ask.value('spring_wheel_rate', axle);
      }),
    },
    {
      provides: 'load_drop',
      model: 'linear springs: what people and load bring to the axle over twice the wheel rate',
      ...formula((ask, axle) => sagIn(ask, total(ask, load, axle), ask.value('spring_wheel_rate_after', axle))),
    },
    {
      provides: 'ride_height_drop',
      model: 'linear springs: the added mass over twice the wheel rate',
      ...formula((ask, axle) => {
        const [before, after] = [fitted('suspension_lift', axle), planned('suspension_lift', axle)];
        const rated = (parts: readonly Part[], others: readonly Part[]) =>
          parts.filter((part) => !others.includes(part)).map(({ subject }) => ask.value('suspension_lift.rated_extra_mass', subject));
        const support = ask.minus(
          ask.sum([ask.value('spring_support_added', axle), ...rated(after, before)]),
          ask.sum(rated(before, after)),
        );
        return sagIn(ask, ask.minus(ask.value('sprung_load_change', axle), support), ask.value('spring_wheel_rate_after', axle));
      }),
    },
  ];
}

/** Whether anybody, or what is typical, says a value at all. */
const isSaid = ({ values }: VehicleWorld, name: string, subject: number): boolean =>
  values.node(values.slot(name, [subject])).candidates.length > 0;

const mean = <N>(ask: FormulaAsk<N>, numbers: readonly N[]): N => ask.times(ask.of(1 / numbers.length), ask.sum(numbers));

const massOf = <N>(ask: FormulaAsk<N>, parts: readonly Part[]): N => ask.sum(parts.map(({ subject }) => ask.value('part.mass', subject)));
