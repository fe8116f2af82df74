/** What is said when an answer from the server did not come: not reached, or reached and at fault. */

export type ServerFailure = 'not reached' | 'at fault';

/**
 * Tells a server that could not be reached from one that answered with a fault.
 *
 * A browser rejects a request that reached nobody with a TypeError (Fetch standard, 5.6, "network
 * error"); anything else came after an answer.
 *
 * @param error what the call was rejected with
 */
export function serverFailure(error: unknown): ServerFailure {
  return error instanceof TypeError ? 'not reached' : 'at fault';
}

/** Words for a publication of which no answer came: it may have been done all the same. */
export function publishFailureText(failure: ServerFailure): string {
  return failure === 'not reached'
    ? 'The server could not be reached. Whether the debrief was published is not known here: look under Published before trying again.'
    : 'The server met a fault of its own while publishing; its log has the details. Look under Published whether it was published before trying again.';
}
