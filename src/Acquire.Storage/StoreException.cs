namespace Acquire.Storage;

/// <summary>The store cannot do what it was asked. The message is for the user: which file, what is wrong, what to do.</summary>
public sealed class StoreException(StoreFault fault, string message, Exception? inner = null) : Exception(message, inner)
{
    /// <summary>The kind of trouble.</summary>
    public StoreFault Fault { get; } = fault;
}
