namespace Acquire.Storage.Strips;

/// <summary>
/// Ids that an imported record names and this store does not have: they lie in the store it was exported from. They are kept without a
/// foreign key, so that the record stays whole.
/// </summary>
internal sealed record ForeignIds(
    Guid? Session, Guid? Reference, Guid? Check, Guid? Repeatability, Guid? Confirms = null, Guid? RereadOf = null, Guid? PairedWith = null)
{
    public static ForeignIds None { get; } = new(null, null, null, null);
}
