/** Places of the made-up dictionary. */
export const PLACE_FIXTURE: ReadonlyMap<string, 'vehicle' | 'axle' | 'corner'> = new Map([
  ['vehicle', 'vehicle'],
  ['front', 'axle'],
  ['rear', 'axle'],
  ['front-left', 'corner'],
  ['front-right', 'corner'],
  ['rear-left', 'corner'],
  ['rear-right', 'corner'],
]);
