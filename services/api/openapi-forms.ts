/**
 * The forms of the OpenAPI document, each once. They are generated twice, as sent (`…Input`) and as answered; here those that are
 * the same, or of which only one is used, become one under the plain name, and those that nothing refers to are left out.
 */
type Schemas = Readonly<Record<string, unknown>>;
export interface Document {
  readonly components?: { readonly schemas?: Schemas };
}

const REF = /"#\/components\/schemas\/([^"]+)"/g;
const SENT = 'Input';

export function oneFormEach(document: Document): Document {
  const schemas = document.components?.schemas ?? {};
  const used = usedIn(document, schemas);
  const both = Object.keys(schemas).filter((name) => `${name}${SENT}` in schemas);
  const merged = new Set(both);
  const plain = (value: unknown): string =>
    JSON.stringify(value).replace(REF, (ref, name: string) => {
      const base = name.endsWith(SENT) ? name.slice(0, -SENT.length) : name;
      return merged.has(base) ? `"#/components/schemas/${base}"` : ref;
    });
  // A form that holds one that stays apart stays apart too.
  for (let before = -1; before !== merged.size; ) {
    before = merged.size;
    for (const name of both) {
      const sent = `${name}${SENT}`;
      if (used.has(name) && used.has(sent) && plain(schemas[name]) !== plain(schemas[sent])) merged.delete(name);
    }
  }
  const forms: Record<string, unknown> = {};
  for (const [name, schema] of Object.entries(schemas)) {
    if (!used.has(name)) continue;
    const base = name.endsWith(SENT) ? name.slice(0, -SENT.length) : name;
    forms[merged.has(base) ? base : name] = schema;
  }
  return JSON.parse(plain({ ...document, components: { ...document.components, schemas: forms } })) as Document;
}

/** Names that the paths refer to, and what those refer to. */
function usedIn(document: Document, schemas: Schemas): ReadonlySet<string> {
  const used = new Set<string>();
  const follow = (value: unknown): void => {
    for (const [, name = ''] of (JSON.stringify(value) ?? '').matchAll(REF)) {
      if (used.has(name)) continue;
      used.add(name);
      follow(schemas[name]);
    }
  };
  follow({ ...document, components: { ...document.components, schemas: {} } });
  return used;
}
