namespace Acquire.Analysis.Gauge;

/// <summary>
/// Readings or certified values from which nothing can be learned about the instrument. The message is for the user: what is wrong,
/// what was expected, what to do.
/// </summary>
public sealed class GaugeException(string message) : Exception(message);
