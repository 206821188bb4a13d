namespace Acquire.Domain.Books;

/// <summary>When something happened, when it was entered, and by whom. The two times differ where an entry is dated back.</summary>
public sealed record EntryStamp
{
    /// <summary>States a stamp.</summary>
    /// <exception cref="ImpossibleValueException">Nobody is named.</exception>
    public EntryStamp(Guid id, DateTimeOffset happenedAt, DateTimeOffset enteredAt, string by)
    {
        (Id, HappenedAt, EnteredAt) = (id, happenedAt, enteredAt);
        By = Guard.Text(by, "The person of an entry");
    }

    /// <summary>UUID v7 of the entry.</summary>
    public Guid Id { get; }

    /// <summary>When it happened.</summary>
    public DateTimeOffset HappenedAt { get; }

    /// <summary>When it was entered, by the clock of the computer.</summary>
    public DateTimeOffset EnteredAt { get; }

    /// <summary>Who entered it.</summary>
    public string By { get; }
}

/// <summary>One entry in the books. Entries are never changed; a wrong one is withdrawn and entered anew.</summary>
public abstract record BookEntry
{
    private protected BookEntry(EntryStamp stamp) => Stamp = stamp;

    /// <summary>When, and by whom.</summary>
    public EntryStamp Stamp { get; init; }

    /// <summary>A note of the user's.</summary>
    public string? Note { get; init; }

    /// <summary>UUID v7.</summary>
    public Guid Id => Stamp.Id;

    /// <summary>When it happened.</summary>
    public DateTimeOffset HappenedAt => Stamp.HappenedAt;

    /// <summary>The entries without which this one means nothing.</summary>
    public virtual ImmutableArray<Guid> RefersTo => [];
}

/// <summary>Takes an entry back. Both stay in the books; the one withdrawn counts no more.</summary>
public sealed record Withdrawal : BookEntry
{
    /// <summary>Withdraws an entry.</summary>
    /// <exception cref="ImpossibleValueException">No reason is given.</exception>
    public Withdrawal(EntryStamp stamp, Guid withdrawnId, string reason)
        : base(stamp)
    {
        WithdrawnId = withdrawnId;
        Reason = Guard.Text(reason, "The reason of a withdrawal");
    }

    /// <summary>The entry that counts no more.</summary>
    public Guid WithdrawnId { get; }

    /// <summary>Why.</summary>
    public string Reason { get; }

    /// <inheritdoc/>
    public override ImmutableArray<Guid> RefersTo => [WithdrawnId];
}
