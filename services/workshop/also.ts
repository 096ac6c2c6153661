/** Quantities that a caller wants in the answer whether or not a rule reads them, such as what the parts bring to each axle. */
import type { Library, Quantity } from '../engine/tree.ts';
import { suggestFrom } from '../vehicle/faults.ts';
import { AXLES, CORNERS, subjectOf } from '../vehicle/places.ts';
import type { CheckRequest, RequestFault } from '../vehicle/request.ts';
import type { VehicleWorld } from '../vehicle/world.ts';

type Asked = Pick<CheckRequest, 'also'>;

/** Only what belongs to the vehicle or to one place: a part's or a pair's values have no one subject to ask for. */
const askable = ({ per }: Quantity): boolean => per.length === 0 || (per.length === 1 && per[0]?.is !== 'part');

export function faultsOfAlso({ also = [] }: Asked, library: Library): RequestFault[] {
  const names = [...library.quantities.values()].filter(askable).map(({ name }) => name);
  return also.flatMap((name, i) =>
    names.includes(name)
      ? []
      : {
          pointer: `/also/${i}`,
          code: 'QUANTITY_UNKNOWN',
          message: `there is no quantity \`${name}\` of the vehicle, an axle or a corner`,
          help: suggestFrom(name, names, '/v1/quantities'),
        },
  );
}

export const slotsAskedFor = ({ also = [] }: Asked, { library, values }: VehicleWorld): number[] =>
  also.flatMap((name) => subjectsOf(library.quantities.get(name)).map((subjects) => values.slot(name, subjects)));

/** None for what is the vehicle's. */
function subjectsOf(quantity: Quantity | undefined): (readonly number[])[] {
  const of = quantity?.per[0]?.is;
  const places = of === 'axle' ? AXLES : of === 'corner' ? CORNERS : undefined;
  return places ? places.map((place) => [subjectOf(place)]) : [[]];
}
