/** Headers that keep foreign code and foreign pages out. */

type PolicyOptions = Readonly<{ nonce: string; mode: 'production' | 'development' }>;

/**
 * The Content-Security-Policy of every page: nothing inline but what carries this response's nonce.
 * While developing, the framework evaluates code and injects styles; that is allowed then only.
 */
export function contentSecurityPolicy({ nonce, mode }: PolicyOptions): string {
  const developing = mode === 'development';
  return [
    "default-src 'self'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'${developing ? " 'unsafe-eval'" : ''}`,
    developing ? "style-src 'self' 'unsafe-inline'" : `style-src 'self' 'nonce-${nonce}'`,
    "img-src 'self' data: blob:",
    "media-src 'self'",
    "font-src 'self'",
    "connect-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ');
}

/** The headers that are the same for every response. */
export const FIXED_HEADERS: Readonly<Record<string, string>> = {
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'same-origin',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
};
