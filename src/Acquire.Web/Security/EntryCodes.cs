using System.Security.Claims;
using Acquire.Web.Security.Tokens;

namespace Acquire.Web.Security;

/// <summary>
/// Codes that let a browser in: each once, for ten minutes. So an address that stays in a history or a log opens nothing.
/// </summary>
internal sealed class EntryCodes(TimeProvider time)
{
    /// <summary>How long a code is good for.</summary>
    public static readonly TimeSpan GoodFor = TimeSpan.FromMinutes(10);

    private const int MostOpen = 20;
    private readonly List<(string Hash, DateTimeOffset Until, ClaimsPrincipal Who)> _open = [];
    private readonly Lock _lock = new();

    /// <summary>A new code, with which a browser acts for somebody. The oldest gives way where too many are open.</summary>
    public string Make(ClaimsPrincipal who)
    {
        var code = RandomSecret.New()[..32];
        lock (_lock)
        {
            if (_open.Count >= MostOpen)
            {
                _open.RemoveAt(0);
            }

            _open.Add((RandomSecret.Hash(code), time.GetUtcNow() + GoodFor, who));
        }

        return code;
    }

    /// <summary>For whom the code was made, and then it is used up; null where it was used, is too old or never was.</summary>
    public ClaimsPrincipal? Take(string code)
    {
        var hash = RandomSecret.Hash(code);
        lock (_lock)
        {
            _ = _open.RemoveAll(o => o.Until <= time.GetUtcNow());
            var found = _open.FindIndex(o => o.Hash == hash);
            if (found < 0)
            {
                return null;
            }

            var who = _open[found].Who;
            _open.RemoveAt(found);
            return who;
        }
    }
}
