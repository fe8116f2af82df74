/**
 * Who may talk to this server from a browser: pages of its own address only.
 *
 * A page elsewhere can point its own name at this machine (DNS rebinding), so the Host header must
 * be this machine's or the public address's; and it can post forms here, so whatever changes
 * something must come from a page of the same origin.
 */
import { isLoopback } from './env';

export type RequestFacts = Readonly<{
  method: string;
  host: string | null;
  origin: string | null;
  fetchSite: string | null;
}>;

export type Rejection = Readonly<{ status: 403 | 421; message: string }>;

const READ_ONLY = new Set(['GET', 'HEAD', 'OPTIONS']);

/** The parts of a request that the guard looks at. */
export function factsOf(request: Readonly<{ method: string; headers: Headers }>): RequestFacts {
  return {
    method: request.method,
    host: request.headers.get('host'),
    origin: request.headers.get('origin'),
    fetchSite: request.headers.get('sec-fetch-site'),
  };
}

/**
 * @param facts the request
 * @param appUrl the public address of this server
 * @returns why the request is turned away; null when it may pass
 */
export function rejectRequest(facts: RequestFacts, appUrl: string): Rejection | null {
  const { host } = facts;
  if (host === null || !isOwnHost(host, appUrl)) {
    return { status: 421, message: `This server does not answer for "${host ?? ''}".` };
  }
  if (READ_ONLY.has(facts.method) || isOwnPage(facts, host)) return null;
  return { status: 403, message: 'A page of another address may not change anything here.' };
}

function isOwnHost(host: string, appUrl: string): boolean {
  if (host === new URL(appUrl).host) return true;
  const withScheme = `http://${host}`;
  if (!URL.canParse(withScheme)) return false;
  return isLoopback(new URL(withScheme).hostname);
}

/** Browsers name the origin of every post; a program that sends neither header is no page at all. */
function isOwnPage(facts: RequestFacts, host: string): boolean {
  if (facts.fetchSite !== null && facts.fetchSite !== 'same-origin' && facts.fetchSite !== 'none') {
    return false;
  }
  if (facts.origin === null) return true;
  return URL.canParse(facts.origin) && new URL(facts.origin).host === host;
}
