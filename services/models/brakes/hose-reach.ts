/**
 * The longest way a brake hose has to reach, from a string laid along its route.
 *
 * The route is measured at full droop and the worst lock as the vehicle stands. Parts that let the wheel droop further
 * move the hose's lower end by at most that much (triangle inequality), so the route grows by no more than the droop
 * added. Metres. 410 mm measured, 25 mm more droop → at most 435 mm.
 */
export const longestRoute = (measured: number, droopAdded: number): number => measured + Math.max(0, droopAdded);
