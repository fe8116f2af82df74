/** Called once when the web server starts, before it answers. */
export async function register(): Promise<void> {
  if (process.env.NEXT_RUNTIME !== 'nodejs') return;
  const { startUp } = await import('./lib/server/start-up');
  await startUp();
}
