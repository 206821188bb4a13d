using Acquire.Bench.Strips;

namespace Acquire.Bench.Trust;

/// <summary>Asks before a strip is read whether the instrument has proved itself.</summary>
public sealed class CheckGate(AcquireStore store, CheckBook book)
{
    private const string WhatToDo = "Check the instrument first: acquire check --plaque NAME --port PORT --profile PROFILE";

    /// <summary>Gives the tags of a strip, with the check in force or why there is none, and what to tell the user.</summary>
    /// <param name="tags">What the user says about the strip.</param>
    /// <param name="required">What is required; null where the user never said: then users with a plaque are told, others are left in peace.</param>
    /// <param name="profile">Name of the device profile.</param>
    /// <param name="cancellationToken">Cancels.</param>
    /// <exception cref="BenchException">A check is required and none is in force.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<(StripTags Tags, string? Warning)> PassAsync(
        StripTags tags, CheckRequirement? required, string profile, CancellationToken cancellationToken)
    {
        var (inForce, lacking) = await book.StandingAsync(profile, cancellationToken);
        if (lacking is null)
        {
            return (tags with { CheckId = inForce?.Id }, null);
        }

        if (required is null && (await store.ListPlaquesAsync(cancellationToken)).Count == 0)
        {
            return (tags, null);
        }

        return required switch
        {
            CheckRequirement.Block => throw new BenchException($"The strip is not read: {lacking}. {WhatToDo}"),
            CheckRequirement.Mark => (tags with { CheckLacking = lacking }, $"The strip will be marked: {lacking}. {WhatToDo}"),
            _ => (tags, $"Take care: {lacking}. {WhatToDo}"),
        };
    }
}
