/** A file of comma-separated values, sent as its lines are made. */

const LINES_A_CHUNK = 2000;

/** @param fileName name under which a browser keeps it */
export function csvResponse(lines: Generator<string>, fileName: string): Response {
  const plainName = fileName.replace(/[^\w.-]+/g, '_');
  return new Response(lineStream(lines), {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': `attachment; filename="${plainName}"`,
      'cache-control': 'no-store',
    },
  });
}

/** Lines as bytes, some thousands at a time, made as the reader takes them. */
function lineStream(lines: Generator<string>): ReadableStream<Uint8Array> {
  const encoder = new TextEncoder();
  return new ReadableStream({
    pull(controller) {
      let text = '';
      for (let count = 0; count < LINES_A_CHUNK; count += 1) {
        const next = lines.next();
        if (next.done === true) {
          controller.enqueue(encoder.encode(text));
          controller.close();
          return;
        }
        text += `${next.value}\r\n`;
      }
      controller.enqueue(encoder.encode(text));
    },
  });
}
