namespace Acquire.Domain.Tests;

internal static class Assertions
{
    /// <summary>The making is refused, and the message for the user says this.</summary>
    public static void Refused(string says, Func<object?> make) =>
        Assert.Contains(says, Assert.Throws<ImpossibleValueException>(() => _ = make()).Message, StringComparison.Ordinal);
}
