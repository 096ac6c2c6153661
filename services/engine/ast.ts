/** What the parser makes: the shape of an expression before names and dimensions are known. */
import type { Span } from './source.ts';

export type Ast =
  | {
      readonly is: 'quantity';
      readonly number: number;
      readonly unit?: string;
      readonly plusMinus?: { readonly number: number; readonly unit?: string };
      readonly span: Span;
    }
  | { readonly is: 'text'; readonly value: string; readonly span: Span }
  | { readonly is: 'truth'; readonly value: boolean; readonly span: Span }
  | { readonly is: 'name'; readonly name: string; readonly span: Span }
  | { readonly is: 'member'; readonly of: Ast; readonly name: string; readonly nameSpan: Span; readonly span: Span }
  | { readonly is: 'call'; readonly name: string; readonly nameSpan: Span; readonly args: readonly Ast[]; readonly span: Span }
  | {
      readonly is: 'fold';
      readonly how: string;
      readonly howSpan: Span;
      readonly body?: Ast;
      readonly binder: string;
      readonly binderSpan: Span;
      readonly over: SelectorAst;
      readonly span: Span;
    }
  | { readonly is: 'negate' | 'not'; readonly a: Ast; readonly span: Span }
  | { readonly is: 'binary'; readonly op: BinaryOp; readonly opSpan: Span; readonly a: Ast; readonly b: Ast; readonly span: Span }
  | { readonly is: 'within'; readonly a: Ast; readonly tolerance: Ast; readonly b: Ast; readonly span: Span };

export type BinaryOp = '+' | '-' | '*' | '/' | '^' | '>=' | '<=' | '>' | '<' | '==' | '!=' | 'and' | 'or';

export interface SelectorAst {
  readonly kind: string;
  readonly kindSpan: Span;
  readonly at?: Ast;
  readonly where?: Ast;
  readonly span: Span;
}

export type TemplateAst =
  | { readonly is: 'words'; readonly words: string }
  | { readonly is: 'hole'; readonly of: Ast; readonly unit?: string; readonly unitSpan?: Span; readonly turns?: Turns };

/** What is said of a number behind its size: the first where it is positive, the second where it is negative. */
export type Turns = readonly [positive: string, negative: string];

/** As text again, fully bracketed; reading it gives the same tree. */
export function printAst(ast: Ast): string {
  switch (ast.is) {
    case 'quantity': {
      const tolerance = ast.plusMinus ? ` ± ${[ast.plusMinus.number, ast.plusMinus.unit].filter((x) => x !== undefined).join(' ')}` : '';
      return `${ast.number}${ast.unit === undefined ? '' : ` ${ast.unit}`}${tolerance}`;
    }
    case 'text':
      return `'${ast.value}'`;
    case 'truth':
      return ast.value ? 'yes' : 'no';
    case 'name':
      return ast.name;
    case 'member':
      return `${printAst(ast.of)}.${ast.name}`;
    case 'call':
      return `${ast.name}(${ast.args.map(printAst).join(', ')})`;
    case 'fold':
      return `${ast.how}(${ast.body ? `${printAst(ast.body)} for ` : ''}${ast.binder} in ${printSelector(ast.over)})`;
    case 'negate':
      return `(-${printAst(ast.a)})`;
    case 'not':
      return `(not ${printAst(ast.a)})`;
    case 'binary':
      return `(${printAst(ast.a)} ${ast.op} ${printAst(ast.b)})`;
    case 'within':
      return `(${printAst(ast.a)} within ${printAst(ast.tolerance)} of ${printAst(ast.b)})`;
  }
}

export const printSelector = ({ kind, at, where }: SelectorAst): string =>
  [kind, ...(at ? [`at ${printAst(at)}`] : []), ...(where ? [`where ${printAst(where)}`] : [])].join(' ');
