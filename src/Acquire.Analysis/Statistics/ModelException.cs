namespace Acquire.Analysis.Statistics;

/// <summary>Data from which a model cannot be made. The message is for the user: what is wrong, what was expected, what to do.</summary>
public sealed class ModelException(string message) : Exception(message);
