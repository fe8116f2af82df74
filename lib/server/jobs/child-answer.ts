/** What any of the processes that work for the server answers where its work threw. */
export type Broken = Readonly<{ kind: 'broken'; message: string }>;
