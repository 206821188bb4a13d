namespace Acquire.Bench.Trust;

/// <summary>Asks before a strip is read whether the instrument has proved itself.</summary>
public sealed class CheckGate(AcquireStore store, CheckBook book)
{
    private const string WhatToDo = "Check the instrument first: acquire check --plaque NAME --port PORT --profile PROFILE";

    /// <summary>Gives the check in force or why there is none, for the strip's record, and what to tell the user.</summary>
    /// <param name="required">
    /// What is required; null where the user never said: then users with a plaque are told, others are left in peace.
    /// </param>
    /// <param name="profile">Name of the device profile.</param>
    /// <param name="cancellationToken">Cancels.</param>
    /// <exception cref="BenchException">A check is required and none is in force.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<CheckPass> PassAsync(CheckRequirement? required, string profile, CancellationToken cancellationToken)
    {
        var (inForce, lacking) = await book.StandingAsync(profile, cancellationToken);
        if (lacking is null)
        {
            return new CheckPass(inForce?.Id);
        }

        if (required is null && (await store.ListPlaquesAsync(cancellationToken)).Count == 0)
        {
            return new CheckPass(null);
        }

        return required switch
        {
            CheckRequirement.Block => throw new BenchException($"The strip is not read: {lacking}. {WhatToDo}"),
            CheckRequirement.Mark => new CheckPass(null, lacking, $"The strip will be marked: {lacking}. {WhatToDo}"),
            _ => new CheckPass(null, null, $"Take care: {lacking}. {WhatToDo}"),
        };
    }
}

/// <summary>What the record of a strip says of the instrument's check.</summary>
/// <param name="CheckId">The check in force; null when there is none.</param>
/// <param name="Lacking">Why none is in force, where the strip is to be marked so; null otherwise.</param>
/// <param name="Warning">What to tell the user; null for nothing.</param>
public sealed record CheckPass(Guid? CheckId, string? Lacking = null, string? Warning = null);

/// <summary>What happens to strips that are read without a calibration check in force.</summary>
public enum CheckRequirement
{
    /// <summary>The user is told.</summary>
    Warn,

    /// <summary>The user is told, and the record says why no check was in force.</summary>
    Mark,

    /// <summary>They are not read.</summary>
    Block,
}

/// <summary>Whether a calibration check is in force.</summary>
/// <param name="InForce">The check; null when none is in force.</param>
/// <param name="Lacking">Why none is, in words; null when one is.</param>
public sealed record CheckStanding(CalibrationCheck? InForce, string? Lacking)
{
    /// <summary>Judges the last check.</summary>
    public static CheckStanding Of(CalibrationCheck? last, DateTimeOffset now, string profile) => last switch
    {
        null => new CheckStanding(null, $"no calibration check was made with profile {profile} yet"),
        { Passed: false } => new CheckStanding(null, $"the last calibration check, of {Numbers.Day(last.Provenance.At)}, failed"),
        _ when now >= last.DueAt => new CheckStanding(
            null, $"the last calibration check is of {Numbers.Day(last.Provenance.At)}, and the next was due on {Numbers.Day(last.DueAt)}"),
        _ => new CheckStanding(last, null),
    };
}
