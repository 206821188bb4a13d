namespace Acquire.Instruments.Captures;

/// <summary>A capture that cannot be read or written. The message names the file, the line, what was expected and what to do.</summary>
public sealed class CaptureException(string message, Exception? inner = null) : Exception(message, inner);
