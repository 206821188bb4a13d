namespace Acquire.Instruments.Learning;

/// <summary>Ends an attempt at learning; the message says to the user what is ambiguous or missing.</summary>
internal sealed class DeclinedException(string reason) : Exception(reason);
