/** Where things are on a vehicle, and the numbers their subjects go by: the vehicle, its axles, its corners, then parts. */
import type { Place, PlaceInput } from './request.ts';

export const PLACES = [
  'vehicle',
  'front',
  'rear',
  'front-left',
  'front-right',
  'rear-left',
  'rear-right',
] as const satisfies readonly Place[];
export const AXLES = ['front', 'rear'] as const;
export const CORNERS = ['front-left', 'front-right', 'rear-left', 'rear-right'] as const;
export type Axle = (typeof AXLES)[number];
export type Corner = (typeof CORNERS)[number];

/** Places have the first subject numbers; parts come after. */
export const subjectOf = (place: Place): number => PLACES.indexOf(place);
export const FIRST_PART = PLACES.length;

export const axleOf = (place: Place): Axle | undefined =>
  place.startsWith('front') ? 'front' : place.startsWith('rear') ? 'rear' : undefined;
export const cornerOf = (place: Place): Corner | undefined => CORNERS.find((corner) => corner === place);
export const isPlace = (text: string): text is Place => (PLACES as readonly string[]).includes(text);
export const levelOf = (place: Place): 'vehicle' | 'axle' | 'corner' =>
  place === 'vehicle' ? 'vehicle' : cornerOf(place) ? 'corner' : 'axle';

/** Every place with what it is, for whoever checks rules. */
export const PLACE_LEVELS: ReadonlyMap<string, 'vehicle' | 'axle' | 'corner'> = new Map(PLACES.map((place) => [place, levelOf(place)]));

/** Whether something at `inner` is also at `outer`: a corner is at its axle, everything is at the vehicle. */
export const covers = (outer: Place, inner: Place): boolean =>
  outer === inner || outer === 'vehicle' || (levelOf(outer) === 'axle' && axleOf(inner) === outer);

/** The places a part of that fit takes when it is put `at` a place: `front` is a pair of corners. */
export function placesFor(fits: 'vehicle' | 'axle' | 'corner', at: PlaceInput): readonly Place[] {
  const all: readonly Place[] = fits === 'vehicle' ? ['vehicle'] : fits === 'axle' ? AXLES : CORNERS;
  return at === 'all' ? all : all.filter((place) => covers(at, place));
}

/** Rule texts write places with an underscore, everything else with a hyphen. */
export const placeNamed = (name: string): number => {
  const place = name.replaceAll('_', '-');
  return isPlace(place) ? subjectOf(place) : -1;
};
