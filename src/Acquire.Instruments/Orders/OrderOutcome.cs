namespace Acquire.Instruments.Orders;

/// <summary>How an order to an instrument ended.</summary>
public enum OrderEnd
{
    /// <summary>
    /// What was ordered came: a reading (one beyond the range or an error of the instrument's ends it too), or the answer.
    /// </summary>
    Answered,

    /// <summary>Nothing was sent: the profile has no such command, the instrument is away, or one is under way.</summary>
    Refused,

    /// <summary>The link broke while it was sent; part may have been.</summary>
    NotSent,

    /// <summary>It was sent, and what was ordered did not come in time.</summary>
    Unanswered,
}

/// <param name="Message">What happened and what to do, for the user; empty when it was answered.</param>
/// <param name="Identity">What the instrument says it is, when it was asked and answered.</param>
public sealed record OrderOutcome(OrderEnd End, string Message, Profiles.InstrumentIdentity? Identity = null)
{
    internal static OrderOutcome Answered { get; } = new(OrderEnd.Answered, "");
}
