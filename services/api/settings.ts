/** The service's settings: from the environment alone, each with what it means. */
import { z } from 'zod';

const LOOPBACK = new Set(['127.0.0.1', '::1', 'localhost']);

const A_PORT = 'a whole number from 0 to 65535 is expected';

const Settings = z
  .object({
    PORT: z.coerce
      .number(A_PORT)
      .int(A_PORT)
      .min(0, A_PORT)
      .max(65535, A_PORT)
      .default(4750)
      .describe('Port to listen on; 0 takes a free one.'),
    HOST: z.string().min(1).default('127.0.0.1').describe('Address to listen on. Anything but loopback needs API_KEYS.'),
    DATABASE_URL: z
      .string()
      .regex(/^postgres(ql)?:\/\//, 'it starts with postgres://')
      .refine((url) => URL.canParse(url), 'it is no URL; a password with `@`, `/`, `#` or `:` in it goes into DATABASE_PASSWORD')
      .optional()
      .describe('A PostgreSQL database; wins over DATA_DIR.'),
    DATABASE_PASSWORD: z
      .string()
      .optional()
      .describe('The password for DATABASE_URL, when it is not in there; any characters, as they are.'),
    DATA_DIR: z.string().min(1).default('.data').describe('Folder of the embedded database.'),
    API_KEYS: z
      .string()
      .default('')
      .transform((text) =>
        text
          .split(',')
          .map((key) => key.trim())
          .filter(Boolean)
          .map((key, i) => {
            const [, name = `key-${i + 1}`, secret = key] = /^([\w.-]+):(.*)$/.exec(key) ?? [];
            return { name, secret };
          }),
      )
      .describe('Keys callers must send, separated by commas, each `name:secret` or a secret alone; a secret has at least 16 characters.'),
    ALLOWED_ORIGINS: z
      .string()
      .default('')
      .transform((text) =>
        text
          .split(',')
          .map((origin) => origin.trim())
          .filter(Boolean),
      )
      .refine(
        (origins) => origins.every((origin) => URL.canParse(origin) && new URL(origin).origin === origin),
        'each is an origin such as https://shop.example, without a path',
      )
      .describe('Origins whose pages in a browser may ask, separated by commas; none when left out.'),
    RATE_LIMIT: z.coerce
      .number()
      .int()
      .min(0)
      .default(1200)
      .describe('Requests a minute for each key, or each address without keys, in this copy of the service; 0 for no limit.'),
  })
  .superRefine((settings, context) => {
    if (settings.API_KEYS.some(({ secret }) => secret.length < 16))
      context.addIssue({ code: 'custom', path: ['API_KEYS'], message: 'a key is shorter than 16 characters' });
    if (!LOOPBACK.has(settings.HOST) && settings.API_KEYS.length === 0)
      context.addIssue({
        code: 'custom',
        path: ['HOST'],
        message: `listening on ${settings.HOST} is refused without API_KEYS: anyone who reaches it could use it`,
      });
  });

export type Settings = z.output<typeof Settings>;

/** Reads the settings, or says everything that is wrong with them. */
export function readSettings(
  env: Readonly<Record<string, string | undefined>>,
): { readonly ok: true; readonly settings: Settings } | { readonly ok: false; readonly faults: readonly string[] } {
  const given = Object.fromEntries(Object.entries(env).filter(([, value]) => value !== undefined && value !== ''));
  const parsed = Settings.safeParse(given);
  if (parsed.success) return { ok: true, settings: parsed.data };
  return { ok: false, faults: parsed.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`) };
}

/** Name, meaning and default of each setting, for the README's table. */
export const settingDocs = (): { name: string; meaning: string }[] =>
  Object.entries(Settings.shape).map(([name, schema]) => ({ name, meaning: (schema as z.ZodType).description ?? '' }));
