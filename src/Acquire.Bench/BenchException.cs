namespace Acquire.Bench;

/// <summary>The user asked for something that cannot be done as asked; the message says what is wrong and what to do.</summary>
public sealed class BenchException(string message, Exception? inner = null) : Exception(message, inner)
{
    /// <summary>Whether what was named is not there; else it is there, or need not be, and cannot be so.</summary>
    public bool IsNotThere { get; init; }
}
