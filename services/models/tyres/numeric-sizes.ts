/**
 * Sizes that are numbers alone, such as 7.50R16: they state no aspect ratio, so their dimensions come from a table.
 * UN R54, annex 5 (from memory, not seen; no copy with its table was found): section width and overall diameter of new tyres, millimetres.
 */
const INCH = 0.0254;

/** By nominal width and rim in inches: section width, overall diameter. */
const TABLE: readonly (readonly [size: string, width: number, diameter: number])[] = [
  ['6.00R16', 170, 728],
  ['6.50R16', 185, 748],
  ['7.00R15', 197, 752],
  ['7.00R16', 198, 778],
  ['7.50R15', 212, 772],
  ['7.50R16', 210, 802],
  ['7.50R17', 210, 832],
  ['7.50R20', 210, 928],
  ['8.25R15', 230, 836],
  ['8.25R16', 230, 860],
  ['8.25R20', 230, 962],
  ['9.00R16', 255, 900],
  ['9.00R20', 258, 1018],
  ['10.00R20', 275, 1052],
];

const BY_SIZE = new Map(TABLE.map(([size, width, diameter]) => [size, { width: width / 1000, diameter: diameter / 1000 }]));

/** m; undefined for a size that is not in the table. */
export const numericDimensions = (width: number, rim: number): { readonly width: number; readonly diameter: number } | undefined =>
  BY_SIZE.get(`${(width / INCH).toFixed(2)}R${rim}`);
