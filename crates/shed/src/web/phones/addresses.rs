//! This machine's addresses on the networks it is in.

use std::net::{IpAddr, Ipv4Addr};

/// One of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Address {
    /// The address.
    pub ip: Ipv4Addr,
    /// The system's name of what it belongs to: `wlan0`.
    pub of: String,
    /// Who can reach it.
    pub reach: Reach,
}

impl Address {
    /// Who can reach it, in words.
    pub fn means(&self) -> String {
        match self.reach {
            Reach::Local => format!("on your own network, {}", self.of),
            Reach::Public => {
                format!("{}, no address of a network of one's own: perhaps anybody can reach it", self.of)
            }
            Reach::Itself => "this machine alone, to try it out".to_owned(),
        }
    }
}

/// Who can reach an address.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reach {
    /// Machines of the same network only.
    Local,
    /// Perhaps anybody.
    Public,
    /// This machine alone.
    Itself,
}

/// All of them, the likeliest first.
pub fn addresses() -> Vec<Address> {
    let all = if_addrs::get_if_addrs().unwrap_or_default();
    let mut found: Vec<Address> = all
        .into_iter()
        .filter(|i| i.is_oper_up() || i.is_loopback())
        .filter_map(|i| match i.ip() {
            IpAddr::V4(ip) if !ip.is_link_local() => Some(Address { ip, reach: reach(ip), of: i.name }),
            _ => None,
        })
        .collect();
    if !found.iter().any(|a| a.reach == Reach::Itself) {
        found.push(Address { ip: Ipv4Addr::LOCALHOST, of: "lo".to_owned(), reach: Reach::Itself });
    }
    found.sort_by_key(|a| (a.reach, made_up(&a.of), a.ip));
    found
}

fn reach(ip: Ipv4Addr) -> Reach {
    match ip {
        _ if ip.is_loopback() => Reach::Itself,
        _ if ip.is_private() => Reach::Local,
        _ => Reach::Public,
    }
}

/// Networks that exist only inside this machine, by their names; common practice, no source.
fn made_up(name: &str) -> bool {
    ["docker", "br-", "veth", "virbr", "vmnet", "vboxnet", "tun", "tap", "utun"].iter().any(|of| name.starts_with(of))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn this_machine_can_always_be_tried_and_who_reaches_an_address_is_known() {
        let all = addresses();
        assert_eq!(all.last().unwrap().reach, Reach::Itself);
        assert!(all.is_sorted_by_key(|a| a.reach));
        // Private networks of RFC 1918, from memory.
        for (ip, said) in [
            ([10, 1, 2, 3], Reach::Local),
            ([172, 16, 0, 1], Reach::Local),
            ([172, 32, 0, 1], Reach::Public),
            ([192, 168, 1, 20], Reach::Local),
            ([198, 51, 100, 7], Reach::Public),
            ([127, 0, 0, 1], Reach::Itself),
        ] {
            assert_eq!(reach(Ipv4Addr::from(ip)), said, "{ip:?}");
        }
        assert!(made_up("docker0") && !made_up("wlan0"));
    }
}
