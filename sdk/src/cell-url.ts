/** Addresses for formulas that fetch a value, such as WEBSERVICE or IMPORTDATA. */

export interface CellPlace {
  readonly baseUrl: string;
  /** Of `cellTokens.create`; it stands in the address, so whoever sees the sheet can read cells with it. */
  readonly token?: string;
}

/** A saved build, or what one is made of: parameters named as the headings of a sheet. */
export type CellBuild = Readonly<Record<string, string | number>>;

/** `cellUrl({ baseUrl, token }, 'margin', { vehicle: 'merrowdale-ghyll', winch: 'hallrigg-winch-36' })` */
export function cellUrl({ baseUrl, token }: CellPlace, what: string, build: CellBuild): string {
  const query = new URLSearchParams({
    ...(token !== undefined && { token }),
    ...Object.fromEntries(Object.entries(build).map(([name, value]) => [name, String(value)])),
  });
  return `${baseUrl.replace(/\/+$/, '')}/v1/cells/${encodeURIComponent(what)}?${query}`;
}
