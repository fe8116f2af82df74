import { randomBytes } from 'node:crypto';
import { type NextRequest, NextResponse } from 'next/server';
import { rejectActionBody } from '@/lib/server/action-body';
import { env } from '@/lib/server/env';
import { factsOf, rejectRequest } from '@/lib/server/request-guard';
import { contentSecurityPolicy, FIXED_HEADERS } from '@/lib/server/security-headers';

const POLICY = 'Content-Security-Policy';
/** No page is here: it shows what every address without a page shows. */
const UNREADABLE = '/unreadable-address';

/** Runs before every page and route but uploads, whose bodies must not be buffered here. */
export async function proxy(request: NextRequest): Promise<NextResponse> {
  const rejection =
    rejectRequest(factsOf(request), env().appUrl) ?? (await rejectActionBody(request));
  if (rejection !== null) {
    return new NextResponse(`${rejection.message}\n`, { status: rejection.status });
  }
  const nonce = randomBytes(16).toString('base64');
  const mode = process.env.NODE_ENV === 'development' ? 'development' : 'production';
  const policy = contentSecurityPolicy({ nonce, mode });
  // The framework reads the nonce from the request's own policy header.
  const headers = new Headers(request.headers);
  headers.set(POLICY, policy);
  headers.set('x-nonce', nonce);
  const forwarded = { request: { headers } };
  const response = isReadable(request.nextUrl.pathname)
    ? NextResponse.next(forwarded)
    : NextResponse.rewrite(new URL(UNREADABLE, request.url), forwarded);
  response.headers.set(POLICY, policy);
  for (const [name, value] of Object.entries(FIXED_HEADERS)) response.headers.set(name, value);
  return response;
}

/** The framework breaks down on a path whose escapes are no UTF-8, such as `/sessions/%ff`. */
function isReadable(pathname: string): boolean {
  try {
    decodeURIComponent(pathname);
    return true;
  } catch {
    return false;
  }
}

export const config = {
  matcher: ['/((?!_next/static|_next/image|import/upload).*)'],
};
