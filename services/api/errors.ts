/** Every error the API answers with: one catalogue for the code, the documents and the tests. */
import type { RequestFault } from '../vehicle/index.ts';

export interface ErrorKind {
  readonly status: number;
  readonly title: string;
  readonly help: string;
}

export const ERRORS = {
  JSON_MALFORMED: { status: 400, title: 'The body is not JSON', help: 'Send one JSON value; the fault names where reading stopped.' },
  JSON_DUPLICATE_KEY: {
    status: 400,
    title: 'A key stands twice in one object',
    help: 'Keep one of the two; readers of JSON disagree on which counts.',
  },
  REQUEST_INVALID: {
    status: 400,
    title: 'The request is not of the form asked for',
    help: 'Mend every fault listed; each has a JSON Pointer and its fix.',
  },
  BUILD_INVALID: {
    status: 422,
    title: 'The build cannot be put together',
    help: 'Mend every fault listed: names, places, units and numbers of the vehicle, its parts and its load.',
  },
  MEASUREMENT_INVALID: {
    status: 422,
    title: 'The measurement cannot be taken for this build',
    help: 'Mend every fault listed: the quantity, whose it is, and its value with a unit.',
  },
  ENTRY_INVALID: {
    status: 422,
    title: 'The entry cannot be taken into the catalogue',
    help: 'Mend every fault listed: its kind or class, and the names and units of its values.',
  },
  IMPORT_INVALID: {
    status: 422,
    title: 'Rows of the import cannot be taken',
    help: 'Nothing was taken. Mend every fault listed by row and column, or send `take=good` to leave those rows out.',
  },
  SHEET_REFUSED: {
    status: 422,
    title: 'The sheet cannot be taken',
    help: 'Nothing was kept. The fault says what is wrong with the file or its headings, and what to do.',
  },
  SHEET_NOT_DONE: {
    status: 409,
    title: 'The sheet is not in that state',
    help: 'Read the job: it says whether it is queued, running, done, cancelled or failed.',
  },
  TYRE_UNREADABLE: {
    status: 422,
    title: 'The designation is no tyre that can be read',
    help: 'The fault says why, and what was probably meant.',
  },
  LENGTH_TOO_SMALL: {
    status: 422,
    title: 'The answer does not fit the length',
    help: 'Send at least the `length` that the fault names: the verdict, what to mind and what could flip it are never left out.',
  },
  ALREADY_THERE: { status: 409, title: 'The id is taken', help: 'Choose another id, or change the entry that is there.' },
  PRECONDITION_MISSING: {
    status: 428,
    title: 'The write does not say what it rests on',
    help: 'Send `if-match` with the `etag` of what you read, so that no change of somebody else is lost.',
  },
  PRECONDITION_FAILED: {
    status: 412,
    title: 'Somebody else has changed it',
    help: 'Read it again, make your change there, and send its new `etag` as `if-match`. Nothing was written.',
  },
  IDEMPOTENCY_KEY_REUSED: {
    status: 422,
    title: 'The idempotency key came with another request before',
    help: 'Use a new key for a new request. Nothing was written.',
  },
  KEY_MISSING: { status: 401, title: 'A key is needed', help: 'Send `authorization: Bearer <key>` with a key of this service.' },
  KEY_UNKNOWN: { status: 401, title: 'The key is not known', help: 'Check the key; keys are set by whoever runs the service.' },
  NOT_FOUND: { status: 404, title: 'There is no such thing', help: 'The detail names the nearest one there is.' },
  GONE: {
    status: 410,
    title: 'The build was deleted',
    help: 'Nothing of it can be brought back; the detail says who deleted it and when.',
  },
  METHOD_WRONG: { status: 405, title: 'The path does not take that method', help: 'The `allow` header names those it takes.' },
  BODY_TOO_LARGE: {
    status: 413,
    title: 'The body is too large',
    help: 'A build is well under the limit of 1 MiB, an import or a sheet under 64 MiB; send it in parts.',
  },
  CONTENT_TYPE_WRONG: {
    status: 415,
    title: 'The body is of a type that is not read',
    help: 'Send `content-type: application/json`; imports take `text/csv` too, sheets CSV and .xlsx.',
  },
  TOO_MANY_REQUESTS: { status: 429, title: 'Too many requests', help: 'Wait for as many seconds as `retry-after` says.' },
  INTERNAL: { status: 500, title: 'The service failed', help: 'It is our fault. Send the request id to whoever runs the service.' },
  UNAVAILABLE: { status: 503, title: 'The service cannot answer now', help: 'Try again after as many seconds as `retry-after` says.' },
} as const satisfies Record<string, ErrorKind>;

export type ErrorCode = keyof typeof ERRORS;
export const ERROR_CODES = Object.keys(ERRORS) as [ErrorCode, ...ErrorCode[]];

/** A fault of an import also says in which row, counted from 1 after the heading, which row of the sheet that is, and in which column. */
export interface Fault extends RequestFault {
  readonly row?: number;
  readonly sheet_row?: number;
  readonly column?: string;
}

export interface Problem {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly code: ErrorCode;
  readonly detail: string;
  readonly faults: readonly Fault[];
  readonly request_id?: string;
}

/** An error with an answer of its own. Anything else that is thrown is answered as INTERNAL, and says nothing of itself. */
export class ApiError extends Error {
  override readonly name = 'ApiError';
  readonly code: ErrorCode;
  readonly faults: readonly Fault[];
  readonly headers: Readonly<Record<string, string>>;

  constructor(
    code: ErrorCode,
    detail: string = ERRORS[code].help,
    faults: readonly Fault[] = [],
    headers: Readonly<Record<string, string>> = {},
  ) {
    super(detail);
    this.code = code;
    this.faults = faults;
    this.headers = headers;
  }

  /** The same error of something that stands at the pointer. */
  under(pointer: string): ApiError {
    const faults = this.faults.map((fault) => ({ ...fault, pointer: pointer + fault.pointer }));
    return new ApiError(this.code, this.message, faults, this.headers);
  }

  get status(): number {
    return ERRORS[this.code].status;
  }

  problem(requestId?: string): Problem {
    const { status, title } = ERRORS[this.code];
    return {
      type: `/docs#${this.code}`,
      title,
      status,
      code: this.code,
      detail: this.message,
      faults: this.faults,
      ...(requestId && { request_id: requestId }),
    };
  }
}

/** What cannot be answered now, and after how many seconds it may be sent again: said in words and in the header alike. */
export const unavailable = (what: string, seconds: number): ApiError =>
  new ApiError('UNAVAILABLE', `${what} Try again in ${seconds} s.`, [], { 'retry-after': String(seconds) });
