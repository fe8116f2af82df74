/**
 * Whether the body of a server action can be decoded at all. The framework answers one that cannot
 * with a bare fault and a stack in the log; no page of ours ever sends one.
 */

/** Why an action's request is turned away. */
type BodyRejection = Readonly<{ status: 400 | 413; message: string }>;

/** The framework takes no larger one. */
const MOST_BYTES = 1 << 20;
const TOO_LARGE = { status: 413, message: 'No more than 1 MiB may be sent to an action.' } as const;
const UNREADABLE = { status: 400, message: 'The body of this request cannot be read.' } as const;

type Posted = Pick<Request, 'method' | 'headers' | 'formData' | 'text'>;

/** An action's arguments come as JSON: alone as text, or with their forms as field 0 of one. */
async function decode(request: Posted, type: string, isAction: boolean): Promise<void> {
  if (!type.startsWith('multipart/form-data')) {
    if (!type.startsWith('text/plain')) throw new TypeError(`an action in ${type}`);
    JSON.parse(await request.text());
    return;
  }
  const form = await request.formData();
  if (!isAction) return;
  const root = form.get('0');
  if (typeof root !== 'string') throw new TypeError('an action without its arguments');
  JSON.parse(root);
}

/**
 * @param request reading it must leave another copy for the framework
 * @returns why an action or a form is turned away: too large, or a body or content type that cannot
 *   be decoded; null when it may pass
 */
export async function rejectActionBody(request: Posted): Promise<BodyRejection | null> {
  const type = (request.headers.get('content-type') ?? '').toLowerCase();
  const isAction = request.headers.has('next-action');
  if (request.method !== 'POST' || !(isAction || type.startsWith('multipart/form-data'))) {
    return null;
  }
  if (Number(request.headers.get('content-length') ?? 0) > MOST_BYTES) return TOO_LARGE;
  try {
    await decode(request, type, isAction);
    return null;
  } catch {
    return UNREADABLE;
  }
}
