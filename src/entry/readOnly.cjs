/** In place of a library's own way for engines without `Object.defineProperty`, with a formatter of messages of its own. */
module.exports = (object, name, value) => {
  Object.defineProperty(object, name, {value});
};
