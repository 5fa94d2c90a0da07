
// Begins once every script of the section is there: files are joined in the order of their names.
window.live.begin();
