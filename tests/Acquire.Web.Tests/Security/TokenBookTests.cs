using Acquire.Web.Security.Tokens;

namespace Acquire.Web.Tests.Security;

public sealed class TokenBookTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-tokens-").FullName;
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2027, 2, 1, 18, 0, 0, TimeSpan.Zero));

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private TokenBook Book => new(_folder, _time);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_token_is_kept_as_its_hash_alone_for_the_user_alone()
    {
        var (token, _) = await Book.AddAsync("evening class", TokenRole.Read, 30, Token);
        Assert.Matches("^[0-9a-f]{64}$", token);
        foreach (var file in Directory.GetFiles(_folder))
        {
            Assert.DoesNotContain(token, await File.ReadAllTextAsync(file, Token), StringComparison.OrdinalIgnoreCase);
            Assert.True(
                OperatingSystem.IsWindows() || File.GetUnixFileMode(file) == (UnixFileMode.UserRead | UnixFileMode.UserWrite), file);
        }

        var (kept, lastUsed) = Assert.Single(Book.List());
        Assert.Equal(("evening class", TokenRole.Read, (DateTimeOffset?)null), (kept.Name, kept.Role, lastUsed));
        Assert.Equal(_time.GetUtcNow().AddDays(30), kept.Until);
    }

    /// <summary>Source: FIPS 180-4; the digest of "abc" as NIST's example has it.</summary>
    [Fact]
    public void A_hash_is_SHA_256() =>
        Assert.Equal("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", RandomSecret.Hash("abc"));

    [Fact]
    public async Task A_name_has_one_token_that_stands()
    {
        await Book.AddAsync("tablet", TokenRole.Read, 1, Token);
        var again = await Assert.ThrowsAsync<BenchException>(() => Book.AddAsync("TABLET", TokenRole.Operate, 1, Token));
        Assert.Contains("acquire token revoke", again.Message, StringComparison.Ordinal);
        Assert.Equal(TokenRole.Read, Assert.Single(Book.List()).Token.Role);

        await Book.RevokeAsync("Tablet", Token);
        Assert.False(Book.HasLive());
        await Assert.ThrowsAsync<BenchException>(() => Book.RevokeAsync("tablet", Token));
        await Book.AddAsync("tablet", TokenRole.Operate, 1, Token);
        Assert.True(Book.HasLive());
        Assert.Equal(TokenRole.Operate, Assert.Single(Book.List()).Token.Role);
        _time.Advance(TimeSpan.FromDays(1));
        Assert.False(Book.HasLive());
    }

    [Fact]
    public async Task A_service_knows_a_token_until_its_last_day_is_over()
    {
        var (token, kept) = await Book.AddAsync("tablet", TokenRole.Read, 2, Token);
        using var watch = new TokenWatch(_folder, _time, NullLogger<TokenWatch>.Instance);
        Assert.Equal(kept, watch.Find(token));
        Assert.Null(watch.Find(token.ToUpperInvariant()));
        Assert.Null(watch.Find(kept.Hash));
        _time.Advance(TimeSpan.FromDays(2) - TimeSpan.FromTicks(1));
        Assert.True(watch.Stands(kept.Hash));
        _time.Advance(TimeSpan.FromTicks(1));
        Assert.Null(watch.Find(token));
        Assert.False(watch.Stands(kept.Hash));
    }

    [Theory]
    [InlineData("", 1)]
    [InlineData(" ", 1)]
    [InlineData("two\nlines", 1)]
    [InlineData(" blank", 1)]
    [InlineData("fine", 0)]
    [InlineData("fine", 3661)]
    public async Task A_name_or_days_out_of_bounds_are_refused(string name, int days)
    {
        await Assert.ThrowsAsync<BenchException>(() => Book.AddAsync(name, TokenRole.Read, days, Token));
        Assert.Empty(Book.List());
    }

    [Fact]
    public async Task Many_at_once_lose_none()
    {
        await Task.WhenAll(Enumerable.Range(0, 20).Select(
            n => Task.Run(() => new TokenBook(_folder, _time).AddAsync($"bench {n}", TokenRole.Read, 1, Token), Token)));
        Assert.Equal(20, Book.List().Length);
    }

    [Fact]
    public async Task A_broken_file_opens_nothing_and_says_so()
    {
        await File.WriteAllTextAsync(Path.Combine(_folder, "service-tokens.json"), "[{", Token);
        var fault = Assert.Throws<BenchException>(() => Book.List());
        Assert.Contains("service-tokens.json", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Revoking_what_is_not_there_names_what_is()
    {
        await Book.AddAsync("tablet", TokenRole.Read, 1, Token);
        var fault = await Assert.ThrowsAsync<BenchException>(() => Book.RevokeAsync("phone", Token));
        Assert.Contains("tablet", fault.Message, StringComparison.Ordinal);
    }
}
