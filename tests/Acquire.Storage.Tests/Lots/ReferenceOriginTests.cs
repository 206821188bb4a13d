namespace Acquire.Storage.Tests.Lots;

public sealed class ReferenceOriginTests : StoreFixture
{
    public static TheoryData<int?, string?, double?> Origins => new()
    {
        { 4, "labelled-channels", null },
        { 1, null, null },
        { null, null, 0.012 },
        { null, null, 0 },
        { null, null, null },
    };

    [Theory]
    [MemberData(nameof(Origins))]
    public async Task Reference_comes_back_with_how_its_values_came_about(int? reads, string? profile, double? list)
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var reference = Some.Reference() with { Origin = Of(reads, profile, list) };

        await Store.AddReferenceAsync(reference, Token);

        Assert.Equal(reference.Origin, (await Store.CurrentReferenceAsync(Some.Lot.Code, Token))!.Origin);
    }

    /// <summary>Who forgot to say it says it in a new revision; the first keeps that nobody had.</summary>
    [Fact]
    public async Task Each_revision_has_an_origin_of_its_own()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var first = Some.Reference();
        await Store.AddReferenceAsync(first, Token);
        await Store.AddReferenceAsync(Some.Reference(first.Id, 2) with { Origin = ReferenceOrigin.Read(3) }, Token);

        Assert.Equal(
            [null, ReferenceOrigin.Read(3)], (await Store.ListReferencesAsync(Some.Lot.Code, Token)).Select(r => r.Origin));
    }

    private static ReferenceOrigin? Of(int? reads, string? profile, double? list) => list is { } uncertainty
        ? ReferenceOrigin.FromList(uncertainty)
        : reads is { } count ? ReferenceOrigin.Read(count, profile) : null;
}
