namespace Acquire.Storage.Import;

/// <summary>A file cannot be read as what it should be. The message is for the user: file, line, what was expected.</summary>
public sealed class ImportException(string message, Exception? inner = null) : Exception(message, inner);
