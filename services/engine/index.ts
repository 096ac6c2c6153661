export { type Diagnostic, renderDiagnostics } from './diagnostics.ts';
export { failedExamples, runExample } from './examples.ts';
export { loadLibrary } from './library.ts';
export { readRuleFiles } from './library-folder.ts';
export type * from './tree.ts';
