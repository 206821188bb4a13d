namespace Acquire.Domain;

/// <summary>
/// A value that cannot exist in the trade was asked for: a density that is no number, a control limit inside the action
/// limit, a lot without patches. The message is written for the user and says what was expected.
/// </summary>
public sealed class ImpossibleValueException(string message) : Exception(message);
