/** The page of documents: made from the OpenAPI document and the error catalogue, with nothing fetched from elsewhere. */
import { ERRORS } from './errors.ts';

interface Operation {
  readonly summary?: string;
  readonly description?: string;
  readonly parameters?: readonly {
    readonly name: string;
    readonly in: string;
    readonly description?: string;
    readonly required?: boolean;
  }[];
  readonly requestBody?: unknown;
  readonly responses?: Readonly<Record<string, unknown>>;
}

const html = (text: string): string =>
  text.replace(/[&<>"]/g, (char) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[char] ?? char);

/** A request that works against the demo catalogue. */
export const EXAMPLE_REQUEST = {
  vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll', measured: [{ quantity: 'tyre_gap', of: 'cab-mounts', value: '24 mm ± 3' }] },
  parts: [{ from: 'catalogue', part: 'orrisbeck-trail-265', at: 'all', replaces: 'fitted' }],
  load: { occupants: 2 },
};

export function docsPage(document: object): string {
  const { paths = {}, components } = document as {
    paths?: Record<string, Record<string, Operation>>;
    components?: { schemas?: Record<string, { description?: string }> };
  };
  const operations = Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => operationHtml(path, method, operation)),
  );
  const forms = Object.entries(components?.schemas ?? {}).map(
    ([name, schema]) =>
      `<details><summary>${html(name)}${schema.description ? ` <span>${html(schema.description)}</span>` : ''}</summary><pre>${html(JSON.stringify(schema, null, 2))}</pre></details>`,
  );
  const errors = Object.entries(ERRORS).map(
    ([code, { status, title, help }]) =>
      `<tr id="${code}"><td>${status}</td><td><code>${code}</code></td><td>${html(title)}</td><td>${html(help)}</td></tr>`,
  );
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Fettle: the API</title><style>${STYLE}</style></head>
<body><main>
<h1>Fettle</h1>
<p>Post a vehicle with its parts, load and use; get what conflicts, by how much and why, the work it takes in order, and what to measure next. The whole contract is <a href="/openapi.json">/openapi.json</a>.</p>
<h2>A check that works</h2>
<pre>curl -s http://127.0.0.1:4750/v1/checks -H 'content-type: application/json' -d '${html(JSON.stringify(EXAMPLE_REQUEST))}'</pre>
<h2>Paths</h2>
${operations.join('\n')}
<h2>Forms</h2>
${forms.join('\n')}
<h2>Errors</h2>
<p>Errors are <code>application/problem+json</code> with every fault at once, each with a JSON Pointer and its fix.</p>
<table><tr><th>status</th><th>code</th><th>means</th><th>what to do</th></tr>${errors.join('')}</table>
</main></body></html>
`;
}

function operationHtml(path: string, method: string, { summary, description, parameters = [], responses = {} }: Operation): string {
  const given = parameters.map(
    ({ name, in: where, description: meaning, required }) =>
      `<li><code>${html(name)}</code> in ${where}${required ? ', needed' : ''}${meaning ? `: ${html(meaning)}` : ''}</li>`,
  );
  return `<section><h3><code>${method.toUpperCase()} ${html(path)}</code></h3><p>${html(summary ?? '')}${description ? `<br>${html(description)}` : ''}</p>${given.length > 0 ? `<ul>${given.join('')}</ul>` : ''}<p class="answers">answers ${Object.keys(responses).join(', ')}</p></section>`;
}

const STYLE = `
body{margin:0;background:#fbfaf6;color:#232320;font:16px/1.5 Georgia,serif}
main{max-width:52rem;margin:0 auto;padding:2rem 1.25rem 6rem}
h1{font-size:2rem;margin:0}h2{margin-top:2.5rem;border-bottom:1px solid #cfcabb}h3{margin:1.5rem 0 .2rem;font-size:1rem}
code,pre{font-family:ui-monospace,monospace;font-size:.85rem}
pre{background:#efece2;padding:.8rem;overflow-x:auto;white-space:pre-wrap}
section p{margin:.2rem 0}.answers{color:#6a6658;font-size:.85rem}
summary{cursor:pointer;font-family:ui-monospace,monospace;font-size:.85rem;padding:.15rem 0}summary span{font-family:Georgia,serif;color:#6a6658}
table{border-collapse:collapse;width:100%;font-size:.9rem}td,th{text-align:left;vertical-align:top;padding:.3rem .6rem .3rem 0;border-top:1px solid #ddd8c8}
:target{background:#f3e6b8}
`;
