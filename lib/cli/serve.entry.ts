// Placeholder entry so that the start script has something to bundle; replaced by the server shell.
console.log('not serving yet');
