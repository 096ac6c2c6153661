import type { Ask, Provider } from '../../engine/values.ts';
import { axleShares, sagOf } from '../../models/loads/axle-loads.ts';
import { centreHeight, stabilityFactor } from '../../models/loads/stability.ts';
import type { Part } from '../assembly.ts';
import { isKind } from '../library-view.ts';
import { AXLES, CORNERS, subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf, sum } from './structure.ts';

/** By how much a side may carry more than half (common practice, no source: driver, tank and battery sit to one side). */
const SIDES_DIFFER = 0.04;
const MOMENTS = 'axle loads by moments about the axles';

export function loadProviders(world: VehicleWorld): Provider[] {
  const { added, removed, load, fitted, planned } = structureOf(world);

  /** What one part brings to an axle, by where its centre of mass is. */
  const share = (ask: Ask, part: Part, axle: number): number => {
    const mass = ask.value('part.mass', part.subject);
    const shares = axleShares(mass, ask.value('part.behind_front_axle', part.subject), ask.value('wheelbase'));
    return axle === subjectOf('front') ? shares.front : shares.rear;
  };
  const total = (ask: Ask, parts: readonly Part[], axle: number): number => sum(parts.map((part) => share(ask, part, axle)));
  const electric = (parts: readonly Part[]): readonly Part[] =>
    parts.filter(({ kind }) => isKind(world.library, kind, 'electric_accessory'));
  const both = (ask: Ask, name: string): number => sum(AXLES.map((axle) => ask.value(name, subjectOf(axle))));

  return [
    {
      provides: 'part.behind_front_axle',
      model: 'what is at an axle is above it',
      compute: (ask, part) => {
        const axle = world.step(part, 'axle');
        if (axle < 0) return ask.unknown('the place of its centre of mass is not given');
        return axle === subjectOf('front') ? 0 : ask.value('wheelbase');
      },
    },
    {
      provides: 'axle_load',
      model: MOMENTS,
      compute: (ask, axle) => ask.value('axle_load_as_fitted', axle) + ask.value('axle_load_change', axle),
    },
    {
      provides: 'axle_load_change',
      model: MOMENTS,
      compute: (ask, axle) => total(ask, added, axle) - total(ask, removed, axle),
    },
    {
      provides: 'axle_load_as_fitted',
      model: MOMENTS,
      compute: (ask, axle) => ask.value('kerb_axle_mass', axle) + total(ask, load, axle),
    },
    { provides: 'gross_mass', model: 'sum of the axle loads', compute: (ask) => both(ask, 'axle_load') },
    {
      provides: 'mass_added',
      model: 'sum of what comes on less what comes off',
      compute: (ask) => {
        const masses = (parts: readonly Part[]): number => sum(parts.map((part) => ask.value('part.mass', part.subject)));
        return masses(added) - masses(removed);
      },
    },
    {
      provides: 'current_added',
      model: 'sum of what comes on less what comes off, all at work at once',
      compute: (ask) => {
        const drawn = (parts: readonly Part[]): number =>
          sum(electric(parts).map((part) => ask.value('electric_accessory.current', part.subject)));
        return drawn(added) - drawn(removed);
      },
    },
    {
      provides: 'payload_left',
      model: 'rated gross mass less gross mass',
      compute: (ask) => ask.value('gross_mass_rating') - ask.value('gross_mass'),
    },
    {
      provides: 'tyre_load',
      model: 'half of the axle load; sides are never quite alike',
      compute: (ask, corner) => {
        const half = ask.value('axle_load', world.step(corner, 'axle')) / 2;
        ask.within(SIDES_DIFFER * half);
        return half;
      },
    },
    {
      provides: 'roof_load_mass',
      model: 'sum of what is on the roof',
      compute: (ask) => sum(planned('roof_load', subjectOf('vehicle')).map(({ subject }) => ask.value('part.mass', subject))),
    },
    {
      provides: 'stability_factor',
      model: 'half of the track over the height of the centre of mass, which lifts, taller tyres and roof loads raise',
      compute: (ask) => {
        const roof = planned('roof_load', subjectOf('vehicle')).filter(({ state }) => state !== 'fitted');
        const ends = AXLES.map((axle) => ask.value('ride_height_change', subjectOf(axle)));
        const tyres = CORNERS.map((corner) => ask.value('tyre_radius_growth', subjectOf(corner)));
        // The cab and bed are about half of what the springs carry.
        const body = (ask.value('body_lift_total') - ask.value('body_lift_fitted')) / 2;
        const on = sum(AXLES.map((axle) => ask.value('kerb_axle_mass', subjectOf(axle))));
        const height = ask.value('mass_centre_height') + mean(ends) + mean(tyres) + body;
        const high = roof.map(({ subject }) => ({ mass: ask.value('part.mass', subject), height: ask.value('roof_load.height', subject) }));
        const track = ask.value('wheel_track') + mean(AXLES.map((axle) => ask.value('track_change', subjectOf(axle))));
        return stabilityFactor(track, centreHeight([{ mass: on, height }, ...high]));
      },
    },
    {
      provides: 'load_drop',
      model: 'linear springs: what people and load bring to the axle over twice the wheel rate',
      compute: (ask, axle) => sagOf(total(ask, load, axle), ask.value('spring_wheel_rate', axle)),
    },
    {
      provides: 'ride_height_drop',
      model: 'linear springs: the added mass over twice the wheel rate',
      compute: (ask, axle) => {
        const [before, after] = [fitted('suspension_lift', axle), planned('suspension_lift', axle)];
        const rated = (parts: readonly Part[]): number =>
          sum(parts.map(({ subject }) => ask.value('suspension_lift.rated_extra_mass', subject)));
        const support =
          ask.value('spring_support_added', axle) +
          rated(after.filter((part) => !before.includes(part))) -
          rated(before.filter((part) => !after.includes(part)));
        return sagOf(ask.value('axle_load_change', axle) - support, ask.value('spring_wheel_rate', axle));
      },
    },
  ];
}

const mean = (numbers: readonly number[]): number => sum(numbers) / numbers.length;
